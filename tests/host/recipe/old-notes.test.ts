import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UnreadableText } from '../../../host/recipe/index.js';
import { readOldNotes } from '../../../host/recipe/old-notes.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { seed } from '../../shared-protocol/arbitrary-message.js';

describe('a print noted in seconds', () => {
  // log2(1 - 3/10) = -0.514573 and log2(1 + 8/10) = 0.847997 stops, in 1/120: -61.749 and 101.760. Arithmetic of stops.
  it('becomes a base, and stops that give the times that were noted', () => {
    const { baseMs, passes, times } = readOldNotes('10 s, 3 s dodge, 8 s burn');
    expect(baseMs).toBe(10_000);
    expect(passes).toEqual([
      {
        kind: 'base',
        label: 'base',
        filter: '',
        stops120: 0,
        dodges: [{ label: 'dodge', stops120: -61.74876 }],
      },
      { kind: 'burn', label: 'burn', filter: '', stops120: 101.75964, dodges: [] },
    ]);
    expect(times.map(({ wantedMs, doseMs }) => [wantedMs, doseMs])).toEqual([
      [3_000, 3_000],
      [8_000, 8_000],
    ]);
  });

  it.each([
    ['10, dodge face 3, burn sky 8', ['face', 'sky']],
    ['10 s; held back 3s face; 8 s burn in for the sky', ['face', 'sky']],
    ['10s + 3s dodging of face and 8 s burnt sky', ['face', 'sky']],
    ['base 10 seconds\n3 seconds dodge (face)\nsky: 8 seconds burn', ['face', 'sky']],
  ])('may be noted as %j', (text, labels) => {
    const { baseMs, passes, times } = readOldNotes(text);
    expect(baseMs).toBe(10_000);
    expect(times.map(({ label }) => label)).toEqual(labels);
    expect([passes[0]!.dodges[0]!.stops120, passes[1]!.stops120]).toEqual([-61.74876, 101.75964]);
  });

  it('may name its lens stop and filters', () => {
    const { aperture10, passes } = readOldNotes(
      'f/5.6, filter 2 1/2, 1m30s, 20 s burn sky through filter 00, 20 s burn',
    );
    expect(aperture10).toBe(56);
    expect(passes.map(({ filter }) => filter)).toEqual(['2 1/2', '00', '2 1/2']);
  });

  it('tells areas without a name apart', () => {
    expect(readOldNotes('10, 2 burn, 3 burn, 1 dodge').times.map(({ label }) => label)).toEqual([
      'burn',
      'burn 2',
      'dodge',
    ]);
  });

  it.each([
    ['', /leaves out the base/],
    ['3 s dodge', /'3 s dodge' leaves out the base/],
    ['10 s, 12 s', /'12 s' would be a second base beside '10 s'/],
    ['10 s, 4 s sky', /'4 s sky' does not say whether 'sky' is dodged or burnt/],
    ['10 s, 10 s dodge', /'10 s dodge' holds back as much as the whole base of 10s/],
    ['10 s, sky burn', /'sky burn' has no time/],
    ['10 s, 3 s dodge and burn', /'3 s dodge and burn' is both a dodge and a burn/],
    ['10,5 s, 3 s dodge', /'10,5' could be one time or two; write a point/],
    ['10 s, 1 ms burn', /'1 ms burn' is not between 1\/120 and 10 stops/],
    ['10 s, f/8, f/11', /there are two lens stops, 'f\/8' and 'f\/11'/],
    ['10 s, 2 s burn left hand corner of it all', /must be at most 16 characters/],
  ])('%j is refused in words', (text, words) => {
    expect(() => readOldNotes(text)).toThrow(UnreadableText);
    expect(() => readOldNotes(text)).toThrow(words);
  });

  it('of any other words is read or refused, and never breaks', () => {
    const words = [
      '10',
      '3 s',
      '1h',
      '0.001s',
      'dodge',
      'burn',
      'sky',
      'f/8',
      'filter',
      '2 1/2',
      ',',
      '+',
      'and',
      '\u202e',
    ];
    const text = fc.oneof(
      fc.array(fc.constantFrom(...words), { maxLength: 12 }).map((parts) => parts.join(' ')),
      fc.string({ maxLength: 40 }),
    );
    let read = 0;
    fc.assert(
      fc.property(text, (notes) => {
        try {
          const { baseMs, passes } = readOldNotes(notes);
          read += 1;
          expect(loadPlanner().recipeFaults({ baseMs, passes: passes.slice(0, 1) })).toBeDefined();
        } catch (error) {
          expect(error).toBeInstanceOf(UnreadableText);
        }
      }),
      { seed, numRuns: 3000 },
    );
    expect(read).toBeGreaterThan(100);
  });
});

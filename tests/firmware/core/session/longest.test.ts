import { describe, expect, it } from 'vitest';
import { encodeLine, limits } from '../../../../shared-protocol/index.js';
import { EveningBench } from '../evening/evening-bench.js';
import { Conversation, sealed } from './conversation.js';

function greeted(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  return bench;
}

// The bench throws for every line that the schema does not allow.
describe('what takes longest is told in lines that the schema allows:', () => {
  // A notice of more than an hour was one that no laptop could read.
  it('a bath of eighteen hours', () => {
    const bench = greeted();
    const longest = 0xffff;
    bench.ask({
      ...{ type: 'bath-set', id: 0, bath: 1, baths: 1, label: 'wash', limitCm2: 0 },
      ...{ resinCoatedSeconds: longest, fibreSeconds: longest, drainSeconds: 0, agitationSeconds: 0 },
    });
    bench.ask({ type: 'watch', id: 0, on: true });
    bench.turn(-1);
    bench.tap();
    bench.tap();
    bench.seconds(2);
    bench.ask({ type: 'watch', id: 0, on: false });
    const moved = bench.notices.filter((line) => line.type === 'moved');
    expect(moved.some(({ remainingMs }) => remainingMs > limits.longestDoseMs)).toBe(true);
    bench.seconds(longest);
    expect(bench.log().at(-1)).toMatchObject({ type: 'bath-used', plannedMs: longest * 1000 });
  });

  it('a bath whose label and numbers take as many bytes of the line as they may', () => {
    const board = Conversation.greeted();
    const bath = {
      ...{ bath: 1, baths: 1, label: `${'é'.repeat(9)}rinser`, limitCm2: 0xffff_ffff },
      ...{ resinCoatedSeconds: 0xffff, fibreSeconds: 0xffff, drainSeconds: 255, agitationSeconds: 255 },
    };
    board.say({ type: 'bath-set', id: 2, ...bath });
    const [told] = board.say({ type: 'bath-get', id: 0xffff, bath: 1 });
    expect(told).toMatchObject({ type: 'bath', ...bath });
    // More than a byte with a sign can count.
    expect(encodeLine(told!).length).toBeGreaterThan(127);
  });

  it('a recipe as long as the shelf may have it, which is chosen and comes back as it was sent', () => {
    const bench = greeted();
    const offset = 10 + 1 / 3;
    const dodge = { label: 'Bootshaus-Treppe', stops120: -offset };
    bench.print({
      ...{ name: 'skelder-mere-at-dusk', baseMs: 60_000 },
      passes: Array.from({ length: limits.recipePasses }, () => ({
        ...({ kind: 'burn', label: 'Bootshaus-Treppe', filter: 'Y130 M45', stops120: 240 + offset } as const),
        dodges: Array.from({ length: limits.recipeDodges / limits.recipePasses }, () => dodge),
      })),
    });
    expect(bench.panel[2]).toBe('skelder-mere-at-dusk');
    const told = bench.ask({ type: 'recipe-get', id: 0, name: 'skelder-mere-at-dusk' });
    const fine = told.flatMap((line) => (line.type === 'recipe-fine' ? [line.offset] : []));
    expect(fine).toEqual(
      Array.from({ length: limits.recipePasses + limits.recipeDodges }, (_, at) => at + 1),
    );
  });

  it('an exposure of an hour with a lamp that loses a second', () => {
    const bench = greeted();
    bench.ask({ type: 'set-setting', id: 0, name: 'lamp-lag-ms', value: 1000 });
    bench.print({
      name: 'slow',
      baseMs: limits.longestDoseMs,
      passes: [{ kind: 'base', label: 'all', filter: '', stops120: 0 }],
    });
    bench.focusAndStopDown();
    bench.tap();
    bench.tap();
    bench.seconds(3700);
    expect(bench.log().filter(({ type }) => type === 'exposure')).toMatchObject([
      { kind: 'focus' },
      { kind: 'base', plannedMs: limits.longestDoseMs },
    ]);
  });
});

describe('a line', () => {
  /** So many bytes with newline and checksum, of a type that no schema has. */
  const lineOf = (bytes: number) => sealed(`["${'x'.repeat(bytes - 18)}",5`);

  it('is read whole up to the longest that the schema allows, and one byte more is refused as no line', () => {
    const board = Conversation.greeted();
    const longest = lineOf(limits.lineBytes);
    expect(longest).toHaveLength(limits.lineBytes);
    expect(board.raw(longest)).toMatch(/^\["error",5,"unknown-type",/);
    expect(board.raw(lineOf(limits.lineBytes + 1))).toMatch(/^\["error",0,"bad-line",/);
    expect(board.raw(longest)).toMatch(/^\["error",5,/);
  });
});

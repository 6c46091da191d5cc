import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatStops, readStops, UnreadableText } from '../../../host/recipe/index.js';
import {
  numberFromPlainKeys,
  stopsFromPlainKeys,
  timeFromPlainKeys,
} from '../../../host/recipe/text/plain-keys.js';
import { limits } from '../../../shared-protocol/limits.js';
import { seed } from '../../shared-protocol/arbitrary-message.js';

describe('stops typed with letters and digits', () => {
  it.each([
    ['third', '1/3'],
    ['1third', '1/3'],
    ['2thirds', '2/3'],
    ['half', '1/2'],
    ['a half', '1/2'],
    ['1and1quarter', '1 1/4'],
    ['2 and a half', '2 1/2'],
    ['1 stop and 1 third', '1 1/3'],
    ['plus1third', '+1/3'],
    ['minus 2 thirds', '-2/3'],
    ['minus1', '-1'],
    ['2stops', '2'],
    ['0point5', '0.5'],
    ['7over120', '7/120'],
    ['minus1and7over120', '-1 7/120'],
    ['Half Stop', '1/2'],
  ])('%j is %j', (typed, text) => {
    expect(stopsFromPlainKeys(typed)).toBe(text);
    expect(() => readStops(text)).not.toThrow();
  });

  it('reach every offset that there is', () => {
    for (let stops120 = -limits.offsetStops120; stops120 <= limits.offsetStops120; stops120++) {
      const typed = formatStops(stops120)
        .replace('+', 'plus')
        .replace('-', 'minus')
        .replace(' ', 'and')
        .replace('/', 'over');
      expect(typed).toMatch(/^[a-z0-9]+$/);
      expect(readStops(stopsFromPlainKeys(typed))).toBe(stops120);
    }
  });

  it.each(['+1/3', '-1/2', '1 1/4', '0.5', '0', '\u22121/3'])(
    '%j is let be, where there are such keys',
    (text) => {
      expect(readStops(stopsFromPlainKeys(text))).toBe(readStops(text));
    },
  );

  it.each(['1third more', '1thirdless', 'half more'])('%j is refused: more than what?', (typed) => {
    expect(() => stopsFromPlainKeys(typed)).toThrow(`'${typed}' leaves open, more or less than what`);
  });

  it.each(['thirdish', 'halfhalf', '1over', 'one', '1third2'])(
    '%j is left to the reader, who refuses it',
    (typed) => {
      expect(() => readStops(stopsFromPlainKeys(typed))).toThrow();
    },
  );
});

describe('whatever is typed for stops', () => {
  it('is read or refused in words, at once', () => {
    const parts = [
      'plus',
      'minus',
      '1',
      '12',
      'and',
      'a',
      'third',
      's',
      'halves',
      'over',
      'stop',
      ' ',
      'more',
      '/',
      '.',
    ];
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...parts), { maxLength: 14 }), (typed) => {
        try {
          expect(Math.abs(readStops(stopsFromPlainKeys(typed.join(''))))).toBeLessThanOrEqual(
            limits.offsetStops120,
          );
        } catch (error) {
          expect(error).toBeInstanceOf(UnreadableText);
        }
      }),
      { seed, numRuns: 3000 },
    );
  });
});

describe('numbers and times typed with letters and digits', () => {
  it('have a word for the decimal point', () => {
    expect(numberFromPlainKeys('12point5')).toBe('12.5');
    expect(numberFromPlainKeys('f5 point 6')).toBe('f5.6');
    expect(numberFromPlainKeys('viewpoint 6')).toBe('viewpoint 6');
  });

  it.each([
    ['12point5s', '12.5s'],
    ['12 seconds', '12s'],
    ['1minute30seconds', '1m30s'],
    ['1 min 30 sec', '1m 30s'],
    ['450ms', '450ms'],
  ])('%j is %j', (typed, text) => {
    expect(timeFromPlainKeys(typed)).toBe(text);
  });
});

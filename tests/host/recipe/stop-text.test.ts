import { describe, expect, it } from 'vitest';
import { formatStops, readStops, UnreadableText } from '../../../host/recipe/index.js';
import { limits } from '../../../shared-protocol/limits.js';

describe('stops as people write them', () => {
  it.each([
    ['0', 0],
    ['+1/3', 40],
    ['-1/2', -60],
    ['1 1/4', 150],
    ['-1 1/4', -150],
    ['0.5', 60],
    ['-0.25', -30],
    ['+2', 240],
    ['\u22121/3', -40],
    [' + 1/6 ', 20],
    ['1/12', 10],
    ['3/120', 3],
    ['10', 1_200],
    ['-10', -1_200],
    ['-0', 0],
  ])('%j is %i/120', (text, stops120) => {
    expect(readStops(text)).toBe(stops120);
  });

  it('are read again from what they are written as, for every 1/120 stop there is', () => {
    for (let stops120 = -limits.offsetStops120; stops120 <= limits.offsetStops120; stops120++) {
      expect(readStops(formatStops(stops120))).toBe(stops120);
    }
  });

  it.each([
    [40, '+1/3'],
    [-150, '-1 1/4'],
    [0, '0'],
    [240, '+2'],
    [7, '+7/120'],
    [-119, '-119/120'],
  ])('%i/120 is written %j', (stops120, text) => {
    expect(formatStops(stops120)).toBe(text);
  });

  it('are not bent to the next 1/120: 1/7 is refused, and its neighbours are named', () => {
    expect(() => readStops('1/7')).toThrow(UnreadableText);
    expect(() => readStops('1/7')).toThrow('+17/120 and +3/20');
    expect(() => readStops('0.33')).toThrow(/not a whole number of 1\/120/);
  });

  it.each([
    '',
    '+',
    'a third',
    '1/0',
    '1//3',
    '1/3 stop',
    '--1',
    '1 2',
    '1,5',
    '10.1',
    '-11',
    '9999',
    '1/3/4',
    '٣',
  ])('%j is refused in words that quote it', (text) => {
    expect(() => readStops(text)).toThrow(UnreadableText);
    expect(() => readStops(text)).toThrow(`'${text}'`);
  });
});

import { describe, expect, it } from 'vitest';
import { readStrip, stripSettings } from '../../../host/recipe/strip-file.js';

describe('a strip file', () => {
  it('is read into what is planned, and into what a board takes', () => {
    const wide = readStrip('{"notes":"a first strip","first":"2s","step":"1","patches":7}');
    expect(wide).toEqual({ firstMs: 2000, step: { stops120: 120 }, patches: 7, cover: 'cumulative' });
    expect(stripSettings(wide)).toEqual({
      firstMs: 2000,
      stepStops120: 120,
      stepMs: 0,
      patches: 7,
      cover: 'cumulative',
      filter: '',
    });
  });

  it('may name its filter', () => {
    const strip = readStrip('{"first":"5s","step":"1","patches":4,"filter":"2 1/2"}');
    expect(strip.filter).toBe('2 1/2');
    expect(stripSettings(strip).filter).toBe('2 1/2');
  });

  it('may step by a time', () => {
    const strip = readStrip('{"first":"5s","step":"2.5s","patches":4,"cover":"separate"}');
    expect(strip.step).toEqual({ equalMs: 2500 });
    expect(stripSettings(strip)).toMatchObject({ stepStops120: 0, stepMs: 2500, cover: 'separate' });
  });

  it.each([
    ['{"first":"5s","patches":4}', 'line 1, column 1, step: this field is missing'],
    ['{"first":"5 sec","step":"1","patches":4}', "first: '5 sec' is not a time"],
    ['{"first":"5s","step":"1/7","patches":4}', "step: '1/7' is not a whole number of 1/120 stop"],
    ['{"first":"5s","step":"1","patches":13}', 'patches: must be at most 12; given was 13'],
    ['{"first":"5s","step":"1","patches":4,"cover":"both"}', "cover: must be 'cumulative' or 'separate'"],
    ['{"first":"5s","step":"1","patches":4,"filter":"magenta 40"}', 'filter: '],
    ['{"first":"5s","step":"1","patches":4,"covr":"x"}', 'covr: there is no such field; the fields here are'],
  ])('%s says what is wrong and where', (text, say) => {
    expect(() => readStrip(text)).toThrow(say);
  });
});

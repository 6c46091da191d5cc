import { describe, expect, it } from 'vitest';
import { isSameOnBoard, nameFromTitle, readRecipe } from '../../../host/recipe/index.js';
import { recipeDifferences } from '../../../host/recipe/recipe-differences.js';
import { demoFile } from './demo-recipe.js';

function read(change: (file: ReturnType<typeof demoFile>) => void = () => {}) {
  const file = demoFile();
  change(file);
  return readRecipe(JSON.stringify(file));
}

describe('what differs between two recipes is told in the words of a printer:', () => {
  const passes = (file: ReturnType<typeof demoFile>) => file.passes as Record<string, unknown>[];
  const face = { label: 'face', stops: '-1/3' };

  it.each<[string, (file: ReturnType<typeof demoFile>) => void, string[]]>([
    ['a burn', (file) => (passes(file)[1]!.stops = '+1'), ['burn sky +3/4 -> +1']],
    ['the base', (file) => (file.base = '14s'), ['base 12.500 s -> 14.000 s']],
    ['a filter', (file) => (passes(file)[1]!.filter = ''), ['filter of burn sky 00 -> none']],
    [
      'a dodge',
      (file) => (passes(file)[0]!.dodges = [{ ...face, stops: '-1/2' }]),
      ['dodge face -1/3 -> -1/2'],
    ],
    [
      'a dodge that went',
      (file) => (passes(file)[0]!.dodges = []),
      ['dodge face -1/3 of base pass taken away'],
    ],
    [
      'a burn that came',
      (file) => passes(file).push({ kind: 'burn', label: 'jetty', stops: '+1/2' }),
      ['burn jetty +1/2 added'],
    ],
    ['the lens', (file) => delete file.aperture, ['aperture f/8 -> not told']],
    ['the paper', (file) => (file.paper = 'matt'), ["paper 'fibre, gloss' -> 'matt'"]],
    ['the order', (file) => file.passes.reverse(), ['order base pass, burn sky -> burn sky, base pass']],
    ['nothing but words that no board holds', (file) => (file.notes = 'in a hurry'), []],
  ])('%s', (_, change, words) => {
    const [before, now] = [read(), read(change)];
    expect(recipeDifferences(before, now)).toEqual(words);
    expect(isSameOnBoard(before, now)).toBe(words.length === 0);
  });

  it('two burns of one name are told apart by their order', () => {
    const twice = read((file) => passes(file).push({ kind: 'burn', label: 'sky', stops: '+1/2' }));
    const other = read((file) => passes(file).push({ kind: 'burn', label: 'sky', stops: '+2/3' }));
    expect(recipeDifferences(twice, other)).toEqual(['burn sky (2) +1/2 -> +2/3']);
  });
});

// Two titles that were alike in their first twenty letters had one name: on the board the later took the other's place.
describe('the name that a title makes', () => {
  it('is whole words where there is room', () => {
    expect(nameFromTitle('Boathouse, café side')).toBe('boathouse-cafe-side');
  });

  it('differs for titles that differ only after twenty letters, and is the same each time', () => {
    const names = ['in the morning', 'in the evening', 'in fog'].map((end) =>
      nameFromTitle(`Boathouse at the lake ${end}`),
    );
    expect(new Set(names).size).toBe(3);
    for (const name of names) expect(name).toMatch(/^boathouse-at-th-[2-9a-z]{4}$/);
    expect(nameFromTitle('Boathouse at the lake in fog')).toBe(names[2]);
    expect(nameFromTitle(names[2]!)).toBe(names[2]);
  });
});

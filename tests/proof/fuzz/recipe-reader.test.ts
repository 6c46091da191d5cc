import { describe, expect, it } from 'vitest';
import { planProblems, RecipeError, readRecipe } from '../../../host/recipe/index.js';
import { Random } from '../../setup/random.js';

const FILES = 3_000;
const LONGEST_MESSAGE = 2_000;

const good = {
  title: 'Boathouse',
  negative: '12-7',
  paper: 'glossy',
  aperture: 'f/8',
  magnification: 4.5,
  base: '12.5s',
  passes: [
    { kind: 'base', filter: '2', stops: '0', dodges: [{ label: 'face', stops: '-1/3' }] },
    { kind: 'burn', label: 'sky', filter: '00', stops: '+3/4' },
  ],
};

const strange = [
  null,
  true,
  0,
  -1,
  1e308,
  '',
  '1/0',
  '1/7',
  '9'.repeat(400),
  '\u0000',
  '\u202e',
  [],
  {},
  [[]],
  '__proto__',
  'NaN s',
];

/** The recipe with one to three values replaced, removed or doubled, anywhere in it. */
function damagedFile(random: Random): string {
  let text = JSON.stringify(good);
  for (let edits = random.between(1, 3); edits > 0; edits--)
    text = random.chance(0.7) ? editValue(random, text) : editText(random, text);
  return text;
}

function editValue(random: Random, text: string): string {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return editText(random, text);
  }
  const places: [Record<string, unknown>, string][] = [];
  const walk = (at: unknown) => {
    if (typeof at !== 'object' || at === null) return;
    for (const key of Object.keys(at)) {
      places.push([at as Record<string, unknown>, key]);
      walk((at as Record<string, unknown>)[key]);
    }
  };
  walk(value);
  const place = places[random.below(Math.max(places.length, 1))];
  if (place === undefined) return text;
  const [holder, key] = place;
  switch (random.below(5)) {
    case 0:
      delete holder[key];
      break;
    case 1:
      holder[`${key}x`] = holder[key];
      break;
    default:
      holder[key] = random.pick(strange);
  }
  return JSON.stringify(value);
}

function editText(random: Random, text: string): string {
  const at = random.below(text.length + 1);
  return (
    text.slice(0, at) +
    random.pick(['', '"', '{', ',', '\\', '\u0007', '// x\n', '[[[[']) +
    text.slice(at + random.below(4))
  );
}

describe(`${FILES} recipe files with something wrong in them`, () => {
  it('are read, or refused in words that say where', () => {
    let refused = 0;
    for (let seed = 1; seed <= FILES; seed++) {
      const text = damagedFile(new Random(seed));
      try {
        planProblems(readRecipe(text));
      } catch (error) {
        if (!(error instanceof RecipeError)) throw new Error(`seed ${seed}: ${text}`, { cause: error });
        refused++;
        expect(error.message.length, `seed ${seed}`).toBeLessThan(LONGEST_MESSAGE);
        expect(error.problems.length, `seed ${seed}`).toBeGreaterThan(0);
      }
    }
    expect(refused).toBeGreaterThan(FILES / 2);
  });

  it('of hostile depth or length are refused as well', () => {
    for (const text of ['['.repeat(100_000), `{"title":${'{"a":'.repeat(20_000)}`, 'x'.repeat(5_000_000)])
      expect(() => readRecipe(text)).toThrow(RecipeError);
  });
});

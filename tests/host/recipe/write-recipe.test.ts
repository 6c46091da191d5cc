import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fileFromRecipe,
  fromBoardRecipe,
  partsOfRecipe,
  RecipeError,
  RecipePartsError,
  readRecipe,
  recipeFromParts,
  toBoardRecipe,
  writeRecipe,
} from '../../../host/recipe/index.js';
import { encodeLine, type Message } from '../../../shared-protocol/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { seed } from '../../shared-protocol/arbitrary-message.js';
import { anyRecipe } from './any-recipe.js';
import { demoFile } from './demo-recipe.js';

const demo = () => readRecipe(JSON.stringify(demoFile()));

describe('a recipe', () => {
  it('is read again from the file it is written to', () => {
    fc.assert(
      fc.property(anyRecipe(), (recipe) => {
        expect(readRecipe(writeRecipe(recipe))).toEqual(recipe);
      }),
      { seed, numRuns: 500 },
    );
  });

  it('keeps notes, history and the column in its file', () => {
    const history = ['from 18x24 to 30x40: base 8s -> 12.5s'];
    const recipe = {
      ...demo(),
      notes: 'Quiet sky.\nTwo trays.',
      history,
      columnHeightMm: 612,
      focalLengthMm: 50,
    };
    expect(readRecipe(writeRecipe(recipe))).toEqual(recipe);
  });

  it('is written as people write it, without what says nothing', () => {
    expect(fileFromRecipe(demo())).toEqual({
      ...demoFile(),
      name: 'boathouse-at-dusk',
      version: 1,
      passes: [{ ...demoFile().passes[0], label: 'base' }, demoFile().passes[1]],
    });
  });

  it('of a board that has a base without a label gets one, as a file has it', () => {
    const [base, burn] = demo().passes;
    const unlabelled = { ...demo(), passes: [{ ...base!, label: '' }, burn!] };
    expect(readRecipe(writeRecipe(unlabelled)).passes[0]!.label).toBe('base');
  });

  // Once a ZodError came out of it, and with that a bare list of braces on the printer's terminal.
  it('that no file could hold is refused in words', () => {
    const [base, burn] = demo().passes;
    const unlabelled = { ...demo(), passes: [base!, { ...burn!, label: '' }] };
    expect(() => writeRecipe(unlabelled)).toThrow(RecipeError);
    expect(() => writeRecipe(unlabelled)).toThrow('passes[1].label: must not be empty');
    expect(() => writeRecipe({ ...demo(), title: '' })).toThrow('title: must not be empty');
    expect(() => writeRecipe({ ...demo(), version: 70_000 })).toThrow('version: must be at most 65535');
  });

  it('is put together again from the lines that upload it', () => {
    fc.assert(
      fc.property(anyRecipe(), (recipe) => {
        const parts = partsOfRecipe(toBoardRecipe(recipe));
        for (const part of parts) encodeLine({ ...part, id: 1 } as Message);
        expect(fromBoardRecipe(recipeFromParts(parts))).toEqual(recipe);
      }),
      { seed, numRuns: 500 },
    );
  });

  it('goes to the board with a title cut to what its line holds, in any script', () => {
    for (const title of ['x'.repeat(80), 'Дом у воды, вечер, третий отпечаток', '🛶'.repeat(40)]) {
      const [, text] = partsOfRecipe(toBoardRecipe({ ...demo(), title }));
      expect(() => encodeLine({ ...text!, id: 1 } as Message)).not.toThrow();
      expect(text).toMatchObject({ which: 'title', value: /^.+…$/u });
    }
  });

  it('is not put together from parts that do not fit', () => {
    const parts = partsOfRecipe(toBoardRecipe(demo()));
    for (let missing = 0; missing < parts.length; missing++) {
      if (parts[missing]!.type === 'recipe-text') continue;
      expect(() => recipeFromParts(parts.toSpliced(missing, 1))).toThrow(RecipePartsError);
    }
    expect(() => recipeFromParts([...parts, parts[0]!])).toThrow(RecipePartsError);
  });

  // A knob turned as far as it goes leaves the fine part: the file that was saved of it could not be read again.
  it('is read again from its file also where a fine part is beyond the widest whole offset', () => {
    const { passes, ...rest } = demo();
    for (const [stops120, baseMs] of [
      [1200.4, 3000],
      [-1200.4, 3_000_000],
    ] as const) {
      const widest = { ...rest, baseMs, passes: [{ ...passes[0]!, stops120, dodges: [] }] };
      expect(readRecipe(writeRecipe(widest)).passes[0]!.stops120).toBeCloseTo(stops120, 9);
    }
    const beyond = { ...demoFile(), passes: [{ kind: 'base', stops: '+10.0042' }] };
    expect(() => readRecipe(JSON.stringify(beyond))).toThrow(RecipeError);
  });

  it('is refused with fine parts of no offset, or with two of one', () => {
    const parts = partsOfRecipe(toBoardRecipe(demo()));
    const fine = (offset: number) => ({ type: 'recipe-fine', offset, fine3M: 7 }) as const;
    const offsets = parts.filter(({ type }) => type === 'recipe-pass' || type === 'recipe-dodge').length;
    expect(() => recipeFromParts([...parts, fine(1), fine(offsets)])).not.toThrow();
    expect(() => recipeFromParts([...parts, fine(offsets + 1)])).toThrow(RecipePartsError);
    expect(() => recipeFromParts([...parts, fine(1), fine(1)])).toThrow(RecipePartsError);
  });
});

describe('the published schema', () => {
  const schema = JSON.parse(readFileSync(join(projectRoot, 'dist/recipe.schema.json'), 'utf8'));

  it('has every field with its kind, and allows no other', () => {
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(schema.additionalProperties).toBe(false);
    expect(schema.required).toEqual(['title', 'base', 'passes']);
    for (const field of Object.keys(demoFile())) expect(schema.properties).toHaveProperty(field);
  });

  it('tells editors the bound on a label', () => {
    for (const pass of schema.properties.passes.items.oneOf) expect(pass.properties.label.maxLength).toBe(16);
  });

  it('has patterns that fit what is read: the demo and every stop that is written', () => {
    const { base, aperture, passes } = schema.properties;
    expect('12.5s').toMatch(new RegExp(base.pattern, 'u'));
    expect('f/5.6').toMatch(new RegExp(aperture.pattern, 'u'));
    const stops = new RegExp(passes.items.oneOf[0].properties.stops.pattern, 'u');
    for (const text of ['0', '+1/3', '-1 1/4', '0.5', '\u22121/2', '+119/120']) expect(text).toMatch(stops);
    expect('a third').not.toMatch(stops);
  });
});

import { describe, expect, it } from 'vitest';
import {
  partsOfRecipe,
  RecipeError,
  readRecipe,
  recipeFromParts,
  toBoardRecipe,
  writeRecipe,
} from '../../../host/recipe/index.js';
import { encodeLine } from '../../../shared-protocol/index.js';
import { demoFile } from './demo-recipe.js';

const face = { kind: 'ellipse', centreXPercent: 38, centreYPercent: 53, widthPercent: 6, heightPercent: 12 };
const sky = { kind: 'edge', side: 'top', depthPercent: 50 };

function shapedFile(shape: object = face) {
  const file = demoFile();
  file.passes[0]!.dodges = [{ label: 'face', stops: '-1/3', shape }];
  file.passes[1]!.shape = sky;
  return file;
}

describe('the shapes in a recipe', () => {
  it('are kept in its file with what was left out filled in', () => {
    const recipe = readRecipe(JSON.stringify(shapedFile()));
    expect(recipe.passes[0]!.dodges[0]!.shape).toEqual({ ...face, turnDegrees: 0, softPercent: 4 });
    expect(recipe.passes[1]!.shape).toEqual(sky);
    expect(readRecipe(writeRecipe(recipe))).toEqual(recipe);
  });

  it('stay on the laptop: the board is sent the same lines without them', () => {
    const shaped = partsOfRecipe(toBoardRecipe(readRecipe(JSON.stringify(shapedFile()))));
    expect(shaped).toEqual(partsOfRecipe(toBoardRecipe(readRecipe(JSON.stringify(demoFile())))));
    for (const [index, part] of shaped.entries()) encodeLine({ id: index + 1, ...part });
    expect(recipeFromParts(shaped).passes[1]).not.toHaveProperty('shape');
  });

  it.each([
    ['a kind that there is not', { kind: 'blob' }, 'kind', /'rectangle', 'ellipse', 'polygon' or 'edge'/],
    ['a side that there is not', { ...sky, side: 'front' }, 'side', /'top', 'bottom', 'left' or 'right'/],
    ['a part far off the print', { ...face, centreXPercent: 300 }, 'centreXPercent', /at most 150/],
    [
      'a field of another shape',
      { ...sky, softPercent: 3 },
      'softPercent',
      /no such field.*side, depthPercent/,
    ],
  ])('that cannot be are told with their place: %s', (_what, shape, field, words) => {
    let refusal: unknown;
    try {
      readRecipe(JSON.stringify(shapedFile(shape)));
    } catch (error) {
      refusal = error;
    }
    expect(refusal).toBeInstanceOf(RecipeError);
    const [problem, ...others] = (refusal as RecipeError).problems;
    expect(others).toEqual([]);
    expect(problem!.path).toBe(`passes[0].dodges[0].shape.${field}`);
    expect(problem!.message).toMatch(words);
  });
});

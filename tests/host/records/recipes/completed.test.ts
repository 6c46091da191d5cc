import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fromBoardRecipe, readRecipe, toBoardRecipe } from '../../../../host/recipe/index.js';
import { completed } from '../../../../host/records/recipes/completed.js';
import { projectRoot } from '../../../../shared-protocol/project.js';

const whole = {
  ...readRecipe(readFileSync(`${projectRoot}/host/evening/boathouse.json`)),
  notes: 'mind the reeds',
  title: 'A boathouse with a title that no display has room for',
};
const onBoard = toBoardRecipe(whole);
const shapeless = fromBoardRecipe(onBoard);

describe('a recipe as a board holds it', () => {
  it('that prints the same as one that was kept is that one, under the number that it has', () => {
    expect(completed({ ...onBoard, version: 9 }, whole)).toEqual({
      ...{ recipe: { ...whole, version: 9 }, unplaced: [] },
    });
  });

  it('that prints otherwise gets of it what bears the same name: shapes, texts and notes', () => {
    const changed = {
      ...{ ...onBoard, version: 9, baseMs: 20_000, paper: 'another' },
      passes: [
        ...onBoard.passes,
        { kind: 'burn' as const, label: 'jetty', filter: '', stops120: 30, dodges: [] },
      ],
    };
    const { recipe, unplaced } = completed(changed, whole);
    expect(recipe).toMatchObject({
      ...{ version: 9, baseMs: 20_000, title: whole.title, notes: whole.notes, paper: 'another' },
      passes: [...whole.passes, { label: 'jetty' }],
    });
    expect(unplaced).toEqual(['burn jetty']);
  });

  it('of which nothing was kept says what has no place: each burn and each dodge, and not the base, which is everywhere', () => {
    const { recipe, unplaced } = completed(onBoard, undefined);
    expect(recipe).toEqual(shapeless);
    const { passes } = whole;
    expect(unplaced).toEqual(
      passes.flatMap(({ kind, label, dodges }) => [
        ...(kind === 'burn' ? [`burn ${label}`] : []),
        ...dodges.map((dodge) => `dodge ${dodge.label}`),
      ]),
    );
    expect(unplaced.length).toBeGreaterThan(2);
    expect(completed(onBoard, shapeless).unplaced).toEqual(unplaced);
  });
});

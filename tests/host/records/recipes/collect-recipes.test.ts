import { expect, it } from 'vitest';
import { readRecipe, toBoardRecipe } from '../../../../host/recipe/index.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { collectRecipes } from '../../../../host/records/recipes/collect-recipes.js';
import { sendRecipe } from '../../../../host/records/recipes/send-recipe.js';
import { ownFolder } from '../../../proof/robustness/archive-folder.js';
import { LaptopAndBoard } from '../../board/link/laptop.js';
import { demoFile } from '../../recipe/demo-recipe.js';

const fileOf = ownFolder();
const recipe = readRecipe(JSON.stringify({ ...demoFile(), name: 'boathouse', notes: 'mind the reeds' }));

// A print by a version that was kept in the dark could not be made again: no laptop had ever had it.
it('what is on a board comes into the archive once, and points to what a laptop sent where that is the same', async () => {
  const pair = new LaptopAndBoard();
  await using archive = await openArchive(fileOf('archive.sqlite'));
  const collect = () => pair.with((board) => collectRecipes(archive, board));
  await pair.with((board) => sendRecipe(archive, board, recipe));
  expect(await collect()).toEqual([]);
  const [sent, found] = await archive.recipes();
  expect(found).toMatchObject({ how: 'collected', content: sent!.content, bodyCrc: expect.any(String) });
  const changed = { ...toBoardRecipe(recipe), version: 2, baseMs: 14_000 };
  await pair.with((board) => board.sendRecipe(changed));
  expect(await collect()).toEqual([changed]);
  const asked: string[] = [];
  await pair.with(async (board) => {
    const watched = new Proxy(board, {
      get: (target, name) => {
        asked.push(String(name));
        const value = Reflect.get(target, name) as unknown;
        return typeof value === 'function' ? value.bind(target) : value;
      },
    });
    expect(await collectRecipes(archive, watched)).toEqual([]);
  });
  expect(asked).not.toContain('getRecipe');
  expect((await archive.recipes()).map(({ recipe: { version }, how }) => [version, how])).toEqual([
    [1, 'sent'],
    [1, 'collected'],
    [2, 'collected'],
  ]);
});

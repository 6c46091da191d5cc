import { describe, expect, it } from 'vitest';
import { readRecipe } from '../../../../host/recipe/index.js';
import type { Recipe } from '../../../../host/recipe/recipe.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { RecipeOverError } from '../../../../host/records/recipes/not-over.js';
import { sendRecipe } from '../../../../host/records/recipes/send-recipe.js';
import { ownFolder } from '../../../proof/robustness/archive-folder.js';
import { LaptopAndBoard } from '../../board/link/laptop.js';
import { demoFile } from '../../recipe/demo-recipe.js';

const first = readRecipe(JSON.stringify({ ...demoFile(), name: 'boathouse' }));

function edited(recipe: Recipe, change: Partial<Recipe>): Recipe {
  return { ...recipe, ...change };
}

function withSky(recipe: Recipe, stops120: number): Recipe {
  return {
    ...recipe,
    passes: recipe.passes.map((pass) => (pass.label === 'sky' ? { ...pass, stops120 } : pass)),
  };
}

// A good print was lost: an older file was sent by the same name, and the board took it in the place of the newer one.
describe('sending a recipe', () => {
  const fileOf = ownFolder();
  const onOneBoard = async (name: string) => {
    const pair = new LaptopAndBoard();
    const archive = await openArchive(fileOf(name));
    const send = (recipe: Recipe, asNext = false) =>
      pair.with((board) => sendRecipe(archive, board, recipe, { asNext }));
    const onBoard = () => pair.with((board) => board.getRecipe('boathouse'));
    return { pair, archive, send, onBoard };
  };

  it('a second time says that it is there, and keeps it once', async () => {
    const { send, archive } = await onOneBoard('twice.sqlite');
    expect(await send(first)).toMatchObject({ version: 1, isThere: false });
    expect(await send(first)).toMatchObject({ version: 1, isThere: true });
    expect(await archive.recipes()).toHaveLength(1);
    await archive.close();
  });

  it('an older one over a newer is refused with both versions and what would change, and the board keeps what it has', async () => {
    const { send, onBoard, archive } = await onOneBoard('older.sqlite');
    await send(edited(withSky(first, 120), { version: 3 }));
    const refused = send(withSky(first, 60));
    await expect(refused).rejects.toBeInstanceOf(RecipeOverError);
    await expect(refused).rejects.toMatchObject({
      exitCode: 2,
      version: 1,
      versionOnBoard: 3,
      differences: ['burn sky +1 -> +1/2'],
    });
    await expect(refused).rejects.toThrow(
      /the board has version 3 of 'boathouse', and this is version 1.*--as-next/,
    );
    expect(await onBoard()).toMatchObject({ version: 3 });
    expect(await send(withSky(first, 60), true)).toMatchObject({ version: 4, isThere: false });
    expect((await onBoard()).passes[1]).toMatchObject({ stops120: 60 });
    await archive.close();
  });

  it('one edited by hand gets the next number by itself, on the board and in the archive', async () => {
    const { send, onBoard, archive } = await onOneBoard('edited.sqlite');
    await send(first);
    expect(await send(withSky(first, 120))).toMatchObject({
      version: 2,
      insteadOf: ['burn sky +3/4 -> +1'],
    });
    expect(await onBoard()).toMatchObject({ version: 2 });
    expect((await archive.recipes()).map(({ recipe }) => recipe.version)).toEqual([1, 2]);
    await archive.close();
  });

  it('one edited by hand gets the next number also on a board that has none of it', async () => {
    const { send, pair, archive } = await onOneBoard('elsewhere.sqlite');
    await send(first);
    await send(edited(first, { version: 2, baseMs: 14_000 }));
    await pair.with((board) => board.removeRecipe('boathouse'));
    expect(await send(withSky(first, 120))).toMatchObject({ version: 3 });
    await archive.close();
  });

  it('over one of the same number that was not sent from here is refused', async () => {
    const { send, archive } = await onOneBoard('mine.sqlite');
    const theirs = await onOneBoard('theirs.sqlite');
    const other = await openArchive(fileOf('theirs-too.sqlite'));
    await theirs.pair.with((board) => sendRecipe(other, board, withSky(first, 120)));
    await expect(theirs.send(first)).rejects.toThrow(
      /another version 1 of 'boathouse', which was not sent from here/,
    );
    await send(first);
    for (const one of [archive, theirs.archive, other]) await one.close();
  });

  it('over an older one that never was here keeps what the board had', async () => {
    const { archive, pair, send } = await onOneBoard('unseen.sqlite');
    const other = await openArchive(fileOf('other.sqlite'));
    await pair.with((board) => sendRecipe(other, board, withSky(first, 120)));
    await send(edited(first, { version: 2 }));
    expect((await archive.recipes()).map(({ recipe, how }) => [recipe.version, how])).toEqual([
      [1, 'collected'],
      [2, 'sent'],
    ]);
    await archive.close();
    await other.close();
  });

  it('after version 65535 is refused in words', async () => {
    const { send, archive } = await onOneBoard('last.sqlite');
    await send(edited(first, { version: 65_535 }));
    await expect(send(withSky(edited(first, { version: 65_535 }), 120))).rejects.toThrow(
      /has had version 65535.*another name/,
    );
    await archive.close();
  });
});

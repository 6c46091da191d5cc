import { describe, expect, it } from 'vitest';
import { BoardLostError, RefusedError } from '../../../../host/board/errors.js';
import { CutCable, LaptopAndBoard, recipe } from './laptop.js';

describe('recipes on the board', () => {
  it('come back as they were pushed, are listed and dropped', async () => {
    const pair = new LaptopAndBoard();
    await pair.with(async (board) => {
      expect(board.id).toBe(pair.board.id);
      await board.sendRecipe(recipe('Jetty at dusk'));
      expect(await board.getRecipe('jetty')).toEqual(recipe('Jetty at dusk'));
      expect(await board.listRecipes()).toMatchObject([{ name: 'jetty', title: 'Jetty at dusk', passes: 3 }]);
      await board.removeRecipe('jetty');
      expect(await board.listRecipes()).toEqual([]);
      await expect(board.removeRecipe('jetty')).rejects.toMatchObject({
        code: 'not-found',
        exitCode: 2,
        message: "the board has no recipe 'jetty': 'treadle recipes' lists those that are kept on it",
      });
      await expect(board.getRecipe('jetty')).rejects.toBeInstanceOf(RefusedError);
    });
  });

  it('have a name each', async () => {
    const pair = new LaptopAndBoard();
    await pair.with(async (board) => {
      const nameless = () => board.sendRecipe({ ...recipe('Jetty'), name: '' });
      await expect(nameless()).rejects.toThrow(/a recipe needs a name/);
      expect(await board.listRecipes()).toEqual([]);
    });
  });

  it('tell how far the upload has come', async () => {
    const pair = new LaptopAndBoard();
    const told: string[] = [];
    await pair.with((board) =>
      board.sendRecipe(recipe('Jetty'), { onProgress: (done, all) => told.push(`${done}/${all}`) }),
    );
    expect(told).toEqual(Array.from({ length: 11 }, (_, at) => `${at + 1}/11`));
  });

  it('are the old one or the new one, whole, wherever the laptop dies in an upload', async () => {
    const whole = new LaptopAndBoard();
    const uncut = new CutCable(whole.board.plug());
    await whole.with((board) => board.sendRecipe(recipe('new', 2)), uncut.laptop);
    const boundaries = uncut.linesPassed;
    expect(boundaries).toBeGreaterThan(20);
    const held: string[] = [];
    for (let boundary = 0; boundary <= boundaries; boundary++) {
      const pair = new LaptopAndBoard();
      await pair.with((board) => board.sendRecipe(recipe('old', 1)));
      const cable = new CutCable(pair.board.plug(), boundary);
      const push = pair.with((board) => board.sendRecipe(recipe('new', 2)), cable.laptop);
      if (boundary < boundaries)
        await expect(push, `cut after ${boundary}`).rejects.toBeInstanceOf(BoardLostError);
      else await push;
      const found = await pair.with((board) => board.getRecipe('jetty'));
      expect([recipe('old', 1), recipe('new', 2)]).toContainEqual(found);
      held.push(found.title);
      expect(pair.board.lampEdges).toEqual([]);
    }
    // Only the board's last answer may be missing when it is the new one.
    expect(held.slice(0, -2).every((title) => title === 'old')).toBe(true);
    expect(held.slice(-2)).toEqual(['new', 'new']);
  });

  it('survive a reset of the board anywhere in an upload', async () => {
    for (let lines = 0; lines <= 11; lines++) {
      const pair = new LaptopAndBoard();
      await pair.with((board) => board.sendRecipe(recipe('old', 1)));
      const push = pair.with((board) =>
        board.sendRecipe(recipe('new', 2), {
          onProgress: (done) => {
            if (done === lines) pair.board.reset('watchdog');
          },
        }),
      );
      await push.catch(() => {});
      const found = await pair.with((board) => board.getRecipe('jetty'));
      expect([recipe('old', 1), recipe('new', 2)]).toContainEqual(found);
    }
  });
});

import { crc32 } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import type { BoardRecipe } from '../../host/recipe/board-recipe.js';
import { decodeLine, encodeLine, type Message } from '../../shared-protocol/index.js';
import { sealed } from '../firmware/core/session/conversation.js';
import { LaptopAndBoard, recipe } from '../host/board/link/laptop.js';
import { frozenRecord } from './frozen-record.js';
import { seedArchived, seedCore, seedFlash } from './seed.js';

const [base, sky, water] = recipe('Jetty').passes;
const [face, reeds] = base!.dodges;
/** As offsets that came of times are: every one but the base has a fine part. */
const fine: BoardRecipe = {
  ...recipe('Jetty'),
  passes: [
    { ...base!, dodges: [face!, { ...reeds!, stops120: -30.49996 }] },
    { ...sky!, stops120: 90.5 },
    { ...water!, stops120: 39.99996 },
  ],
};
// Recipes are frozen as the first firmware had them: what offsets have beyond whole 1/120 stop lies behind the rest.
describe('a recipe whose offsets have fine parts', () => {
  it('comes back from a board as it was sent, over power-off too', async () => {
    const pair = new LaptopAndBoard();
    await pair.with((board) => board.sendRecipe(fine));
    const after = new LaptopAndBoard({ flash: pair.board.flash });
    expect(await after.with((board) => board.getRecipe('jetty'))).toEqual(fine);
  });

  it('is a recipe of whole 1/120 stop to a firmware of before, which leaves the rest where it lies', async () => {
    const pair = new LaptopAndBoard();
    await pair.with((board) => board.sendRecipe(fine));
    const { schemaHash } = seedArchived(1);
    const before = new LaptopAndBoard({ module: seedCore(1), flash: pair.board.flash });
    before.board.advanceUs(1_000_000);
    const heard = say(before, [
      encodeLine({ type: 'hello', id: 1, protocol: 1, schemaHash, hostVersion: 'then' }),
      sealed('["recipe-fetch",2,"jetty"'), // as it was called then
    ]);
    const offsets = heard.flatMap((line) => ('stops120' in line ? [line.stops120] : []));
    expect(offsets).toEqual([0, -40, -30, 91, 40]);
    const after = new LaptopAndBoard({ flash: before.board.flash });
    expect(await after.with((board) => board.getRecipe('jetty'))).toEqual(fine);
  });

  it('is refused with both versions by a board of before, whose recipes stay as they are', async () => {
    const pair = new LaptopAndBoard({ module: seedCore(1), flash: seedFlash(1) });
    pair.board.advanceUs(1_000_000);
    const board = await pair.open(pair.board.plug(), { acceptOtherVersion: true });
    await expect(pair.over(board.sendRecipe(fine))).rejects.toThrow(/protocol 1/);
    await board.close();
  });

  // The records of its parts one behind another, put together from what is frozen of them; behind a text there is nothing.
  it('and a recipe without any lies on the shelf in the bytes that it had before there were any', async () => {
    const { name, title, negative, paper, passes, ...head } = recipe('Jetty');
    const dodges = passes.flatMap((pass) => pass.dodges);
    const texts = { title, negative, paper };
    const body = Buffer.concat([
      frozenRecord('recipe-begin', { name, passes: passes.length, dodges: dodges.length }),
      frozenRecord('recipe-head', head),
      ...Object.entries(texts).map(([which, value]) => frozenRecord('recipe-text', { which, value })),
      ...passes.map((pass, at) =>
        frozenRecord('recipe-pass', { ...pass, pass: at + 1, dodges: pass.dodges.length }),
      ),
      ...dodges.map((dodge) => frozenRecord('recipe-dodge', { ...dodge })),
    ]);
    const listed = await new LaptopAndBoard().with(async (board) => {
      await board.sendRecipe(recipe('Jetty'));
      return board.listRecipes();
    });
    expect(listed).toMatchObject([{ name, bodyCrc: crc32(body).toString(16).padStart(8, '0') }]);
  });
});

/** What the board answers to these lines. */
function say({ board }: LaptopAndBoard, requests: readonly string[]): Message[] {
  const cable = board.plug();
  cable.write('\n');
  return requests.flatMap((request) => {
    cable.write(request);
    board.advanceUs(1_000_000);
    return String(cable.read() ?? '')
      .split('\n')
      .flatMap((line) => {
        const decoded = decodeLine(line);
        return decoded.ok ? [decoded.message] : [];
      });
  });
}

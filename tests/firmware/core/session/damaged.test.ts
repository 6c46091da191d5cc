import { beforeEach, describe, expect, it } from 'vitest';
import { limits } from '../../../../shared-protocol/index.js';
import { Conversation, recipeUpload } from './conversation.js';

/** A sector's length byte of the name, behind its mark and most of its header; then the name, and the body. */
const NAME_AT = 31;
const BODY_AT = 64;

/** Turns over a bit of the document's body on the flash, so many bytes into it. */
function flipIn(board: Conversation, name: string, at: number): void {
  const named = Buffer.from([name.length, ...Buffer.from(name)]);
  for (let sector = 0; sector < board.flash.size; sector += limits.sectorBytes)
    if (named.equals(board.flash.read(sector + NAME_AT, named.length))) {
      board.flash.flipBits(sector + BODY_AT + at, 0x04);
      return;
    }
  throw new Error(`there is no document '${name}'`);
}

let board: Conversation;
beforeEach(() => {
  board = new Conversation();
  board.hello();
  for (const [index, name] of ['anchor', 'slipway', 'weir'].entries())
    for (const part of recipeUpload(name, 12_500, 100 + index * 20)) board.say(part);
});

const list = () => board.say({ type: 'recipe-list', id: 900 });

// A bit in the name once made the whole list fail, and one in the base gave 8.404 s for 12.5 s.
describe.each([
  ['name', 3],
  ['base', 24],
  ['last pass', 260],
  ['fine part of an offset', 448],
])('a recipe of which a bit has rotted in the %s', (_, at) => {
  beforeEach(() => flipIn(board, 'slipway', at));

  it('is listed as damaged, by its name and nothing else, and the others as they are', () => {
    expect(list()).toMatchObject([
      { name: 'anchor', passes: 2, baseMs: 12_500, intact: true },
      { name: 'slipway', title: '', passes: 0, baseMs: 0, intact: false },
      { name: 'weir', passes: 2, baseMs: 12_500, intact: true },
      { type: 'ended', count: 3 },
    ]);
  });

  it('is neither told nor chosen, with words about the board', () => {
    const damaged = {
      type: 'error',
      code: 'damaged',
      text: 'it is damaged: send it again',
    };
    expect(board.say({ type: 'recipe-get', id: 901, name: 'slipway' })).toMatchObject([damaged]);
    expect(board.say({ type: 'choose', id: 902, job: 'recipe', name: 'slipway' })).toMatchObject([damaged]);
    expect(board.say({ type: 'choose', id: 903, job: 'recipe', name: 'weir' })).toMatchObject([
      { type: 'ok' },
    ]);
  });

  it('can be removed, or sent again', () => {
    for (const part of recipeUpload('slipway', 8000, 300))
      expect(board.say(part)).toMatchObject([{ type: 'ok' }]);
    expect(list()[1]).toMatchObject({ name: 'slipway', baseMs: 8000, intact: true });
    flipIn(board, 'weir', at);
    expect(board.say({ type: 'recipe-remove', id: 904, name: 'weir' })).toMatchObject([{ type: 'ok' }]);
    expect(list()).toHaveLength(3);
  });
});

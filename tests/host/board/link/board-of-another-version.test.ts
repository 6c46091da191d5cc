import { describe, expect, it } from 'vitest';
import { VersionMismatchError } from '../../../../host/board/errors.js';
import type { Board } from '../../../../host/board/link/board.js';
import { usualBaths } from '../../../../shared-protocol/usual-baths.js';
import { recipe, strip } from './laptop.js';
import { lens } from './scripted-peer.js';
import { collect, Talk } from './talk.js';

/** What a board of another version understands all the same, and what nothing is sent for. */
type Understood = 'collect' | 'forget' | 'askToMakeWay' | 'makingWay' | 'close' | typeof Symbol.asyncDispose;
type Call = (board: Board) => Promise<unknown>;
type NameOfCall = {
  [Name in keyof Board]: Board[Name] extends (...given: never[]) => Promise<unknown> | AsyncGenerator<unknown>
    ? Name
    : never;
}[keyof Board];

const bath = usualBaths[0]!;
const refused: Record<Exclude<NameOfCall, Understood>, Call> = {
  status: (board) => board.status(),
  counters: (board) => board.counters(),
  setClock: (board) => board.setClock(),
  getSetting: (board) => board.getSetting('metronome'),
  setSetting: (board) => board.setSetting('tone-volume', 30),
  allSettings: (board) => board.allSettings(),
  getName: (board) => board.getName(),
  setName: (board) => board.setName('left'),
  listRecipes: (board) => board.listRecipes(),
  getRecipe: (board) => board.getRecipe('jetty'),
  sendRecipe: (board) => board.sendRecipe(recipe('Jetty')),
  removeRecipe: (board) => board.removeRecipe('jetty'),
  choose: (board) => board.choose('strip'),
  setStrip: (board) => board.setStrip(strip),
  getBath: (board) => board.getBath(1),
  allBaths: (board) => board.allBaths(),
  setBaths: (board) => board.setBaths([bath]),
  allBathTimes: (board) => board.allBathTimes(),
  setBathTimes: (board) =>
    board.setBathTimes([{ label: bath.label, trayC10: 200, resinCoatedSeconds: 60, fibreSeconds: 90 }]),
  renewBath: (board) => board.renewBath(1),
  notices: (board) => collect(board.notices()),
};

async function otherVersion() {
  const talk = new Talk();
  talk.peer.welcome = { schemaHash: '00000000' };
  return { talk, board: await talk.open({ acceptOtherVersion: true }) };
}

describe('a board of another version', () => {
  // It would read the same words in another sense.
  it.each(Object.entries(refused))('is sent nothing by %s, and it is said why', async (_, call) => {
    const { talk, board } = await otherVersion();
    await expect(talk.over(call(board))).rejects.toBeInstanceOf(VersionMismatchError);
    expect(talk.peer.types()).toEqual(['hello']);
    await board.close();
  });

  it('gives its log from its very first record, whatever number that has', async () => {
    const { talk, board } = await otherVersion();
    talk.peer.log = [lens(0), lens(1), lens(2)];
    const batches = await talk.over(collect(board.collect(0)));
    expect(batches.flatMap(({ records }) => records.map(({ seq }) => seq))).toEqual([0, 1, 2]);
    await board.close();
  });

  // Of protocol 1 'pull' was the name; it knows no other.
  it('is asked for its log by the name that the request had in its protocol', async () => {
    const talk = new Talk();
    talk.peer.welcome = { protocol: 1 };
    const board = await talk.open({ acceptOtherVersion: true });
    talk.peer.incoming = () => undefined;
    const stop = new AbortController();
    talk.clock.after(10, () => stop.abort(new Error('enough')));
    await expect(talk.over(collect(board.collect(0, { signal: stop.signal })))).rejects.toThrow('enough');
    expect(talk.peer.raw).toMatch(/\["pull",\d+,0,/);
    expect(talk.peer.raw).not.toContain('["collect"');
    await board.close();
  });

  it('that will not forget is not taken for one that started anew, and not asked how it is', async () => {
    const { talk, board } = await otherVersion();
    talk.peer.answer = ({ type }) =>
      type === 'forget' || type === 'ping'
        ? [{ type: 'error', code: 'not-allowed', text: '', field: 0, low: 0, high: 0 }]
        : undefined;
    await expect(talk.over(board.forget(1))).rejects.toMatchObject({ code: 'not-allowed' });
    expect(talk.peer.types()).toEqual(['hello', 'forget']);
    expect(board.lost.aborted).toBe(false);
    await board.close();
  });
});

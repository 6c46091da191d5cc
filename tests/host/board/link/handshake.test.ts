import { describe, expect, it } from 'vitest';
import { BoardLostError, NoBoardError, VersionMismatchError } from '../../../../host/board/errors.js';
import { encodeLine } from '../../../../shared-protocol/index.js';
import { damaged, lens, usualWelcome } from './scripted-peer.js';
import { collect, EPOCH_MS, Talk } from './talk.js';

describe('opening a board', () => {
  it('says hello after a bare newline, learns who it is and gives it the time', async () => {
    const talk = new Talk();
    const board = await talk.open();
    expect(board.id).toBe(usualWelcome.boardId);
    expect(board.welcome.boot).toBe(7);
    expect(talk.peer.raw).toMatch(/^\n\["hello",100,/);
    expect(talk.peer.heard).toMatchObject([
      { type: 'hello', id: 100 },
      { type: 'set-clock', epochMs: EPOCH_MS },
    ]);
    await board.close();
  });

  it('goes on saying hello to a board that is still starting', async () => {
    const talk = new Talk();
    talk.peer.incoming = (line, count) => (count < 3 ? undefined : line);
    const board = await talk.open();
    expect(board.id).toBe(usualWelcome.boardId);
    expect(talk.timeline.nowUs).toBeGreaterThan(1_000_000);
    await board.close();
  });

  it('believes nothing before a valid answer to its own hello', async () => {
    const talk = new Talk();
    talk.peer.say('half a line of an earlier evening');
    talk.peer.say(`\r\nboot loader v0\n${encodeLine({ type: 'welcome', id: 5, ...usualWelcome })}`);
    talk.peer.say(encodeLine({ type: 'lamp', id: 0, uptimeMs: 1, on: true, onUs: 0 }));
    talk.peer.answer = (message) =>
      message.type === 'hello' && message.id < 102
        ? [{ type: 'welcome', ...usualWelcome, boardId: 'ffffffffffffffff' }]
        : undefined;
    talk.peer.outgoing = (line) => (line.includes('ffffffffffffffff') ? damaged(line) : line);
    const board = await talk.open();
    expect(board.id).toBe(usualWelcome.boardId);
    expect(board.linkCounters).toMatchObject({ badLines: 2, badCrcs: 2 });
    await board.close();
  });

  it('gives up on a silent port, and says what to look at', async () => {
    const talk = new Talk();
    talk.peer.incoming = () => undefined;
    await expect(talk.open()).rejects.toThrow(/no board answered .* wires crossed/);
    await expect(new Talk().open({ timing: { helloMs: 0 } })).rejects.toBeInstanceOf(NoBoardError);
  });

  it('tells a chatty stranger from a silent one', async () => {
    const talk = new Talk();
    talk.peer.incoming = () => undefined;
    const chatter = () => {
      talk.peer.say('AT+OK\r\n\x00\xff garbage\r\n');
      talk.clock.after(100, chatter);
    };
    chatter();
    await expect(talk.open()).rejects.toThrow(/another device, or a wrong baud rate/);
  });

  it('tells a few bytes that make no line from silence', async () => {
    const talk = new Talk();
    talk.peer.incoming = () => undefined;
    talk.peer.say('\x80\xfe\x00\x80');
    await expect(talk.open()).rejects.toThrow(/: 4 bytes came back and no line among them/);
  });

  it('survives a stranger that sends without end and without newlines', async () => {
    const talk = new Talk();
    talk.peer.incoming = () => undefined;
    const flood = () => {
      talk.peer.say('x'.repeat(10_000));
      talk.clock.after(10, flood);
    };
    flood();
    await expect(talk.open()).rejects.toThrow(
      /\d+ bytes came back and no line among them: a wrong baud rate/,
    );
  });

  it('is said ever more seldom, each gap at most twice the one before', async () => {
    const talk = new Talk();
    const atMs: number[] = [];
    talk.peer.incoming = () => void atMs.push(talk.clock.nowMs());
    await expect(talk.open()).rejects.toThrow();
    const gapsMs = atMs.slice(1).map((ms, at) => ms - atMs[at]!);
    expect(gapsMs.at(-1)).toBeGreaterThan(2 * gapsMs[0]!);
    for (const [at, gapMs] of gapsMs.slice(1).entries()) {
      expect(gapMs).toBeGreaterThanOrEqual(gapsMs[at]!);
      expect(gapMs).toBeLessThanOrEqual(2 * gapsMs[at]!);
    }
  });

  it('ends at once when the port goes away, or when it is told to stop', async () => {
    const talk = new Talk();
    talk.peer.incoming = () => undefined;
    talk.clock.after(300, () => talk.peer.vanish());
    await expect(talk.open()).rejects.toBeInstanceOf(BoardLostError);

    const other = new Talk();
    other.peer.incoming = () => undefined;
    const stop = new AbortController();
    other.clock.after(300, () => stop.abort(new Error('enough')));
    await expect(other.open({ signal: stop.signal })).rejects.toThrow('enough');
    expect(other.peer.laptop.destroyed).toBe(true);
  });
});

describe('laptop and board out of step', () => {
  it.each([
    ['an older board', { firmwareVersion: '0.0.9', schemaHash: '00000000' }, 'board', /'treadle flash'/],
    [
      'an older laptop',
      { firmwareVersion: '99.0.0', schemaHash: '00000000' },
      'laptop',
      /install the version/,
    ],
    ['an older laptop by protocol', { protocol: 99, firmwareVersion: '0.0.1' }, 'laptop', /protocol 99/],
    ['an older board by protocol', { protocol: 1, firmwareVersion: '99.0.0' }, 'board', /protocol 1,/],
    ['two builds of one version', { schemaHash: '00000000' }, 'either', /different schemas/],
  ])('%s is an error that names both and says which side to update', async (_, welcome, update, words) => {
    const talk = new Talk();
    talk.peer.welcome = welcome;
    const error = await talk.open().catch((reason: unknown) => reason as VersionMismatchError);
    expect(error).toBeInstanceOf(VersionMismatchError);
    expect(error).toMatchObject({ update, exitCode: 1 });
    expect((error as Error).message).toMatch(words);
    expect((error as Error).message).toMatch(/this laptop speaks treadle .* the board .*treadle info/);
    expect(talk.peer.types()).toEqual(['hello']);
  });

  it('leave the log readable, also records that this version does not know', async () => {
    const talk = new Talk();
    talk.peer.welcome = { schemaHash: '00000000' };
    talk.peer.log = [lens(1), lens(2)];
    const board = await talk.open({ acceptOtherVersion: true });
    expect(board.mismatch).toBeInstanceOf(VersionMismatchError);
    await expect(board.status()).rejects.toBe(board.mismatch);
    await expect(board.sendRecipe({} as never)).rejects.toBe(board.mismatch);
    const [batch] = await talk.over(collect(board.collect(0)));
    expect(batch!.records.map(({ seq }) => seq)).toEqual([1, 2]);
    await talk.over(board.forget(2));
    expect(talk.peer.types()).not.toContain('ping');
    await board.close();
  });
});

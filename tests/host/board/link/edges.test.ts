/** Where what is allowed ends, and what is cleared away when something is over. */
import { type Duplex, duplexPair } from 'node:stream';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import {
  BoardLostError,
  InvalidRequestError,
  NoBoardError,
  PortNotFoundError,
  type RefusedError,
  VersionMismatchError,
} from '../../../../host/board/errors.js';
import type { Board } from '../../../../host/board/link/board.js';
import { onExitSignals } from '../../../../host/board/link/exit-signals.js';
import { LineFramer } from '../../../../host/board/link/line-framer.js';
import type { LineEvent } from '../../../../host/board/link/line-observer.js';
import { stayConnected } from '../../../../host/board/link/stay-connected.js';
import { type ErrorCode, limits } from '../../../../shared-protocol/index.js';
import { usualBaths } from '../../../../shared-protocol/usual-baths.js';
import { LaptopAndBoard } from './laptop.js';
import { damaged, lens, sealed, usualWelcome } from './scripted-peer.js';
import { collect, Talk } from './talk.js';

describe('the clock of a laptop', () => {
  const LAST_MS = Date.UTC(2100, 0, 1) - 1;

  it.each([
    ['that was never set', 0, false],
    ['a moment before the year 2000', Date.UTC(2000, 0, 1) - 1, false],
    ['at the first moment that a board takes', Date.UTC(2000, 0, 1), true],
    ['at the last moment that a board takes', LAST_MS, true],
    ['past it', LAST_MS + 1, false],
  ])('%s is told, or it is said that it is not set', async (_, epochMs, isTold) => {
    const talk = new Talk();
    const clock = { ...talk.clock, epochMs: () => epochMs };
    const board = await talk.open({ clock });
    expect(talk.peer.types().includes('set-clock')).toBe(isTold);
    const told = talk.over(board.setClock());
    if (isTold) await told;
    else await expect(told).rejects.toThrow(/clock is not set/);
    expect(talk.peer.types().filter((type) => type === 'set-clock')).toHaveLength(isTold ? 2 : 0);
    expect(board.clockTold).toBe(isTold);
    await board.close();
  });
});

describe('a row of baths', () => {
  it.each([0, limits.baths + 1])('of %i is not sent', async (count) => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    const row = Array(count).fill(usualBaths[0]);
    await expect(talk.over(board.setBaths(row))).rejects.toThrow(/has 1 to 8 baths, \d were given/);
    expect(talk.peer.types()).toEqual(['hello']);
    await talk.over(board.setBaths([usualBaths[0]!]));
    expect(talk.peer.types()).toEqual(['hello', 'bath-set']);
    await board.close();
  });
});

describe('a full row of baths', () => {
  it('and as many times by temperature as a board keeps come back as they were set', async () => {
    const pair = new LaptopAndBoard();
    const baths = Array.from({ length: limits.baths }, (_, at) => ({
      ...usualBaths[0]!,
      label: `bath ${at}`,
    }));
    const times = Array.from({ length: limits.bathPoints }, (_, at) => ({
      ...{ label: 'bath 0', trayC10: 180 + at * 5, resinCoatedSeconds: 90 - at, fibreSeconds: 180 - at },
    }));
    await pair.with(async (board) => {
      await board.setBaths(baths);
      await board.setBathTimes(times);
      expect(await board.allBaths()).toMatchObject(baths);
      expect(await board.allBathTimes()).toEqual(times);
    });
  });
});

describe('times by temperature', () => {
  it('are asked for one by one, up to the last that there is', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const time = { label: 'bath', trayC10: 200, resinCoatedSeconds: 60, fibreSeconds: 90, points: 2 };
    talk.peer.answer = (message) =>
      message.type === 'point-get' ? [{ type: 'bath-point', point: message.point, ...time }] : undefined;
    expect(await talk.over(board.allBathTimes())).toHaveLength(2);
    expect(talk.peer.types().filter((type) => type === 'point-get')).toHaveLength(2);
    await board.close();
  });

  it('of which there are more than a board keeps are not sent', async () => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    const time = { label: 'bath', trayC10: 200, resinCoatedSeconds: 60, fibreSeconds: 90 };
    const times = Array(limits.bathPoints + 1).fill(time);
    await expect(talk.over(board.setBathTimes(times))).rejects.toThrow(/keeps 12 times .*, 13 were given/);
    expect(talk.peer.types()).toEqual(['hello']);
    await board.close();
  });

  // As none they would have been taken off the baths by whoever set them anew from what came.
  it('that a board does not tell are not taken for none', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const refuse = (code: ErrorCode) => {
      talk.peer.answer = ({ type }) =>
        type === 'point-get' ? [{ type: 'error', code, text: '', field: 0, low: 0, high: 0 }] : undefined;
      return talk.over(board.allBathTimes());
    };
    expect(await refuse('not-found')).toEqual([]);
    await expect(refuse('damaged')).rejects.toMatchObject({ code: 'damaged' });
    await board.close();
  });
});

describe('when a board is let go of', () => {
  it('nothing of what it told of itself is left to do or to count', async () => {
    const talk = new Talk();
    const stop = new AbortController();
    {
      await using board = await talk.open();
      talk.clock.after(100, () => stop.abort());
      await talk.over(collect(board.notices({ signal: stop.signal })));
      for (let onUs = 0; onUs < 300; onUs++) talk.peer.tell({ type: 'lamp', uptimeMs: 1, on: false, onUs });
      await talk.over(board.status());
      expect(board.linkCounters.noticesDropped).toBe(0);
    }
    expect(talk.timeline.nextUs).toBeUndefined();
    expect(talk.peer.laptop.destroyed).toBe(true);
  });

  it('and a port that only says that nothing more comes has gone away', async () => {
    const talk = new Talk();
    const board = await talk.open();
    // A stream may end and never close.
    talk.peer.laptop.push(null);
    await talk.pass(100);
    expect(board.lost.aborted).toBe(true);
    expect(String(board.lost.reason)).toMatch(/its port went away/);
    await board.close();
  });

  it('a port that is open is closed, and any other stream is let go', async () => {
    for (const isOpen of [true, false]) {
      const talk = new Talk();
      const told: string[] = [];
      const destroy = talk.peer.laptop.destroy.bind(talk.peer.laptop);
      const close = (done: () => void) => {
        told.push('closed');
        done();
      };
      Object.assign(talk.peer.laptop, { isOpen, close, destroy: () => told.push('destroyed') && destroy() });
      const board = await talk.open();
      await board.close();
      expect(told).toEqual([isOpen ? 'closed' : 'destroyed']);
    }
  });

  it('asking whether it makes way is not asking it to', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = ({ type }) =>
      type === 'make-way' ? [{ type: 'way', stands: 'not-asked' }] : undefined;
    expect(await talk.over(board.makingWay())).toBe('not-asked');
    expect(talk.peer.heard.at(-1)).toMatchObject({ type: 'make-way', ask: false });
    await talk.over(board.askToMakeWay());
    expect(talk.peer.heard.at(-1)).toMatchObject({ type: 'make-way', ask: true });
    await board.close();
  });
});

describe('a process that is told to end', () => {
  /** Somebody else handles it as well: otherwise it would have its usual effect on these tests. */
  async function tellToEnd(): Promise<void> {
    const handle = () => {};
    process.on('SIGTERM', handle);
    process.emit('SIGTERM', 'SIGTERM');
    await new Promise((resolve) => setImmediate(resolve));
    process.off('SIGTERM', handle);
  }
  // Whatever tests before left open.
  beforeEach(tellToEnd);

  const listeners = () => ['SIGINT', 'SIGTERM', 'SIGHUP'].map((signal) => process.listenerCount(signal));

  it('closes what it has open, and is told so no more afterwards', async () => {
    const before = listeners();
    const closed: string[] = [];
    const stopAtFirst = onExitSignals(async () => void closed.push('first'));
    const [one] = before;
    expect(listeners()).toEqual(before.map((count) => count + 1));
    onExitSignals(async () => void closed.push('second'));
    expect(process.listenerCount('SIGINT')).toBe(one! + 1);
    stopAtFirst();
    expect(listeners()).toEqual(before.map((count) => count + 1));
    await tellToEnd();
    expect(closed).toEqual(['second']);
    expect(listeners()).toEqual(before);
    onExitSignals(async () => {})();
    expect(listeners()).toEqual(before);
  });

  it('ends by the same signal once all is closed, where nobody else handles that', async () => {
    const kill = vi.spyOn(process, 'kill');
    try {
      expect(process.listenerCount('SIGHUP')).toBe(0);
      const told: string[] = [];
      onExitSignals(async () => void told.push('closed'));
      kill.mockImplementation((_, signal) => {
        told.push(String(signal));
        return true;
      });
      process.emit('SIGHUP', 'SIGHUP');
      await new Promise((resolve) => setImmediate(resolve));
      expect(told).toEqual(['closed', 'SIGHUP']);
    } finally {
      kill.mockRestore();
    }
  });

  it('is not asked about a port where no board answered', async () => {
    const before = listeners();
    const talk = new Talk();
    talk.peer.incoming = () => undefined;
    await expect(talk.open({ closeOnSignals: true })).rejects.toThrow(NoBoardError);
    expect(listeners()).toEqual(before);
    const there = new Talk();
    const board = await there.open({ closeOnSignals: true });
    expect(listeners()).not.toEqual(before);
    await board.close();
    expect(listeners()).toEqual(before);
  });
});

describe('what comes from the line', () => {
  it('is told whole to whoever observes it, and what is sent', async () => {
    const talk = new Talk();
    const events: LineEvent[] = [];
    const board = await talk.open({ observe: (event) => events.push(event), setClock: false });
    talk.peer.say('junk\n');
    await talk.over(board.status());
    talk.peer.say('x');
    await talk.pass(10);
    await board.close();
    const of = (kind: string) => events.filter((event) => event.kind === kind).map(({ text }) => text.trim());
    expect(of('sent').map((text) => text.split(',')[0])).toEqual(['["hello"', '["ping"']);
    expect(of('received').map((text) => text.split(',')[0])).toEqual(['["welcome"', '["status"']);
    expect(of('note')).toEqual(['opened', 'this program closed the connection']);
    expect(events.filter(({ kind }) => kind === 'thrown-away')).toMatchObject(
      [
        { text: 'junk', why: /^bad-line/ },
        { text: 'x', why: '1 bytes without a newline' },
      ].map(({ text, why }) => ({ text, why: typeof why === 'string' ? why : expect.stringMatching(why) })),
    );
  });

  it('after the end is heard and counted no more', async () => {
    const talk = new Talk();
    const events: LineEvent[] = [];
    const board = await talk.open({ observe: (event) => events.push(event) });
    talk.peer.incoming = () => undefined;
    await expect(talk.over(board.status())).rejects.toThrow(BoardLostError);
    const told = events.length;
    const counted = board.linkCounters;
    talk.peer.say(`junk\n${'~'.repeat(1000)}\n`);
    await talk.pass(10);
    expect(events.slice(told)).toEqual([]);
    expect(board.linkCounters).toEqual(counted);
    await board.close();
  });

  it('is all told when its end is between two lines: no bytes are thrown away', async () => {
    const talk = new Talk();
    const kinds: string[] = [];
    const board = await talk.open({ observe: ({ kind }) => kinds.push(kind) });
    await talk.over(board.status());
    await board.close();
    expect(kinds).toContain('received');
    expect(kinds).not.toContain('thrown-away');
  });

  it('of a stranger is counted line by line, whatever is wrong with each', async () => {
    const talk = new Talk();
    talk.peer.incoming = () => {
      talk.peer.say(`AT\n${damaged(sealed('["ok",1'))}${sealed('["polished",1,2')}`);
      return undefined;
    };
    await expect(talk.open({ timing: { helloMs: 200 } })).rejects.toThrow(/ 3 lines came back/);
  });

  it('of a stranger is told apart from silence by a single byte', async () => {
    for (const said of ['', '~']) {
      const talk = new Talk();
      talk.peer.incoming = () => {
        talk.peer.say(said);
        return undefined;
      };
      const none = talk.open({ timing: { helloMs: 200 } });
      await expect(none).rejects.toThrow(said === '' ? /nothing came back/ : /came back and no line/);
    }
  });

  it('too long by one byte is too long wherever it is cut', () => {
    const text = `${'x'.repeat(limits.lineBytes + 2)}\n`;
    for (let cut = 1; cut < text.length; cut++) {
      const lengths: number[] = [];
      const framer = new LineFramer((line) => lengths.push(line.length));
      for (const part of [text.slice(0, cut), text.slice(cut)]) framer.feed(Buffer.from(part));
      expect([cut, ...lengths]).toEqual([cut, limits.lineBytes + 1]);
    }
  });

  it('when its stream fails ends with the words of the operating system', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.laptop.destroy(new Error('EIO: i/o error'));
    await talk.pass(1);
    expect(board.lost.reason).toBeInstanceOf(BoardLostError);
    expect(String(board.lost.reason)).toContain('EIO: i/o error');
    await board.close();
  });
});

describe('whoever observes the line', () => {
  /** A board that answers otherwise than it was asked for a setting; at the first time its observer does something. */
  async function atAWrongAnswer(act: (board: Board) => void) {
    const talk = new Talk();
    let notTaken = 0;
    const observe = ({ text }: LineEvent) => {
      if (text.startsWith('not taken') && notTaken++ === 0) act(board);
    };
    const board = await talk.open({ observe });
    talk.peer.answer = ({ type }) => (type === 'get-setting' ? [{ type: 'ok' }] : undefined);
    return { talk, board };
  }

  // The line was sent again all the same: the error of that was nobody's, and ended the program.
  it('may let go of the board at what it is told', async () => {
    const { talk, board } = await atAWrongAnswer((there) => void there.close());
    await expect(talk.over(board.getSetting('metronome'))).rejects.toThrow(/this program closed/);
    expect(board.linkCounters.repeats).toBe(0);
    expect(talk.timeline.nextUs).toBeUndefined();
  });

  // Nobody waited for the answer any more, and so the board was called lost.
  it('may break the request off at what it is told, and the board is there as before', async () => {
    const stop = new AbortController();
    const { talk, board } = await atAWrongAnswer(() => stop.abort(new Error('enough')));
    const work = talk.over(board.getSetting('metronome', { signal: stop.signal }));
    await expect(work).rejects.toThrow('enough');
    await talk.pass(6000);
    expect(board.lost.aborted).toBe(false);
    await board.close();
  });
});

describe('a board that could not even read the number of a line', () => {
  it('has it said again at once', async () => {
    const talk = new Talk();
    const board = await talk.open();
    let first = true;
    talk.peer.incoming = (line) => {
      if (!first) return line;
      first = false;
      return 'junk';
    };
    const before = talk.timeline.nowUs;
    await talk.over(board.status());
    expect(talk.timeline.nowUs - before).toBeLessThan(100_000);
    expect(board.linkCounters).toMatchObject({ repeats: 1, strayAnswers: 0 });
    talk.peer.tell({ type: 'welcome', ...usualWelcome }, 99);
    await talk.over(board.status());
    expect(board.linkCounters.strayAnswers).toBe(0);
    await board.close();
  });

  it('has it said again at once also where it was said again before', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const onTheWay = [() => undefined, () => 'junk'];
    talk.peer.incoming = (line) => (onTheWay.length > 0 ? onTheWay.shift()!() : line);
    const startMs = talk.clock.nowMs();
    await talk.over(board.status());
    const repeatMs = talk.clock.nowMs() - startMs;
    expect(board.linkCounters.repeats).toBe(2);
    onTheWay.push(() => undefined);
    await talk.over(board.status());
    const usualMs = talk.clock.nowMs() - startMs - repeatMs;
    expect(repeatMs - usualMs).toBeLessThan(100);
    await board.close();
  });

  // Said again in mid-answer, its end would have ended the answer to the second.
  it('has nothing said again of which one line is here already', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const line = { type: 'recipe-line', name: 'jetty', version: 1, title: '', passes: 1, baseMs: 1 } as const;
    talk.peer.answer = ({ type, id }) => {
      if (type !== 'recipe-list') return undefined;
      talk.peer.tell({ ...line, bodyCrc: '00000000', intact: true }, id);
      talk.peer.tell({ type: 'error', code: 'bad-line', text: '', field: 0, low: 0, high: 0 });
      return [{ type: 'ended', count: 1 }];
    };
    expect(await talk.over(board.listRecipes())).toHaveLength(1);
    expect(board.linkCounters.repeats).toBe(0);
    await board.close();
  });

  it('refuses in words of the range of a field only where it has one', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const refuse = (field: number, low: number, high: number) => {
      talk.peer.answer = ({ type }) =>
        type === 'forget' ? [{ type: 'error', code: 'bad-field', text: 'no', field, low, high }] : undefined;
      return talk.over(board.forget(7)).catch((error: unknown) => error as RefusedError);
    };
    expect(await refuse(1, 0, 3)).toMatchObject({ field: 'uptoSeq', given: 7, low: 0, high: 3 });
    expect(await refuse(1, -3, 0)).toMatchObject({ low: -3, high: 0 });
    expect(await refuse(1, 0, 0)).toMatchObject({ field: 'uptoSeq', low: undefined, high: undefined });
    expect(await refuse(0, 0, 3)).toMatchObject({ field: undefined, given: undefined, low: undefined });
    await board.close();
  });
});

it('a board of another version is not asked to tell of itself, nor to stop', async () => {
  const talk = new Talk();
  talk.peer.welcome = { schemaHash: '00000000' };
  const board = await talk.open({ acceptOtherVersion: true });
  await expect(talk.over(collect(board.notices()))).rejects.toBeInstanceOf(VersionMismatchError);
  expect(talk.peer.types()).toEqual(['hello']);
  expect(talk.timeline.nextUs).toBeUndefined();
  await board.close();
});

describe('the log of a board of another version', () => {
  it('has records that this version does not know, and those that have changed since, as they came', async () => {
    const talk = new Talk();
    talk.peer.welcome = { schemaHash: '00000000' };
    talk.peer.answer = ({ type, id }) => {
      if (type !== 'collect') return undefined;
      talk.peer.say(sealed(`["polished",${id},3,1,0,"with a cloth"`));
      talk.peer.say(sealed(`["lens",${id},3,2,500,"and more"`));
      talk.peer.say(sealed(`["polished",${id},3,-3,500`));
      talk.peer.say(sealed(`["polished",${id},3,3.5,500`));
      return [{ type: 'collected', nextSeq: 3, endSeq: 3 }];
    };
    const board = await talk.open({ acceptOtherVersion: true });
    const [batch] = await talk.over(collect(board.collect(1)));
    expect(batch!.records).toEqual([
      { boot: 3, seq: 1, uptimeMs: 0, type: 'polished', fields: [3, 1, 0, 'with a cloth'] },
      { boot: 3, seq: 2, uptimeMs: 500, type: 'lens', fields: [3, 2, 500, 'and more'] },
    ]);
    expect(board.linkCounters.wrongAnswers).toBe(0);
    await board.close();
  });
});

describe('a line that this version knows otherwise', () => {
  // As a record of its own it stood in the archive for ever.
  it('is no record of a board of another version, and is asked for again', async () => {
    const talk = new Talk();
    talk.peer.welcome = { schemaHash: '00000000' };
    let times = 0;
    talk.peer.answer = ({ type, id }) => {
      if (type !== 'collect' || times++ > 0) return undefined;
      talk.peer.say(sealed(`["status",${id},3,2,500`));
      return [];
    };
    talk.peer.log = [lens(1), lens(2)];
    const board = await talk.open({ acceptOtherVersion: true });
    const batches = await talk.over(collect(board.collect(1)));
    expect(batches.flatMap(({ records }) => records.map(({ seq, type }) => [seq, type]))).toEqual([
      [1, 'lens'],
      [2, 'lens'],
    ]);
    expect(board.linkCounters.wrongAnswers).toBe(1);
    await board.close();
  });
});

describe('a log', () => {
  it('far along whose end has rotted is told to its end', async () => {
    const talk = new Talk();
    talk.peer.log = Array.from({ length: 10 }, (_, at) => lens(at + 501));
    talk.peer.rotAfter(506);
    const board = await talk.open();
    const batches = await talk.over(collect(board.collect(501)));
    expect(batches.flatMap(({ holes }) => [...holes])).toEqual([507, 508, 509, 510]);
    await board.close();
  });
});

describe('a board that was lost', () => {
  // The system has a port for one program at a time: the board could not be found there again.
  it('by its silence is let go of before it is looked for', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.incoming = () => undefined;
    const isFree: boolean[] = [];
    const atMs: number[] = [];
    let lostAtMs = 0;
    const whereabouts = () => {
      isFree.push(talk.peer.laptop.destroyed);
      atMs.push(talk.clock.nowMs() - lostAtMs);
      return duplexPair()[0];
    };
    const work = stayConnected(board, whereabouts, (current) => current.status(), {
      ...{ clock: talk.clock, draw: () => 0, timing: { helloMs: 10 }, lookingMs: 1000 },
      onLost: () => {
        lostAtMs = talk.clock.nowMs();
      },
    });
    await expect(talk.over(work)).rejects.toBeInstanceOf(BoardLostError);
    expect(isFree[0]).toBe(true);
    expect(Math.max(...atMs)).toBeLessThanOrEqual(1000);
  });

  // It was handed out as if it were there, and nobody was ever told that it is not.
  it('in the moment in which it answered the hello is not handed out', async () => {
    const talk = new Talk();
    const observe = ({ kind }: LineEvent) => kind === 'received' && talk.peer.laptop.destroy();
    await expect(talk.open({ observe, setClock: false })).rejects.toThrow(BoardLostError);
    expect(talk.timeline.nextUs).toBeUndefined();
  });

  it('leaves nothing to do, though nobody let go of it yet', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.vanish();
    await new Promise((resolve) => board.lost.addEventListener('abort', resolve));
    expect(talk.timeline.nextUs).toBeUndefined();
    await board.close();
  });

  /** What comes of work whose board is lost at once and then looked for. */
  async function lookingFor(again: (times: number) => Duplex) {
    const talk = new Talk();
    const board = await talk.open();
    const atMs: number[] = [];
    const whereabouts = () => again(atMs.push(talk.clock.nowMs()));
    const options = { clock: talk.clock, draw: () => 0, timing: { helloMs: 10 } };
    const work = stayConnected(
      board,
      whereabouts,
      (current) => {
        talk.peer.vanish();
        return current.status();
      },
      options,
    );
    const error = await talk.over(work).catch((reason: unknown) => reason);
    return { error, atMs, times: atMs.length };
  }

  it('is looked for ever more seldom', async () => {
    const { error, times, atMs } = await lookingFor(() => duplexPair()[0]);
    expect(error).toBeInstanceOf(BoardLostError);
    expect(times).toBeGreaterThan(5);
    expect(times).toBeLessThan(15);
    const gapsMs = atMs.slice(1).map((ms, at) => ms - atMs[at]!);
    // Who plugs it in again soon is not kept waiting: no gap is more than twice the one before.
    for (const [at, gapMs] of gapsMs.slice(1).entries()) expect(gapMs).toBeLessThanOrEqual(2 * gapsMs[at]!);
    expect(gapsMs.at(-1)).toBeGreaterThan(gapsMs[0]!);
  });

  it('is looked for on where its port is not there yet, and no longer where something else is wrong', async () => {
    const { error, times } = await lookingFor((time) => {
      if (time < 3) throw new PortNotFoundError('the port');
      throw new TypeError('a mistake');
    });
    expect([String(error), times]).toEqual(['TypeError: a mistake', 3]);
    const refused = await lookingFor(() => {
      throw new InvalidRequestError('a mistake of the user');
    });
    expect([refused.error, refused.times]).toEqual([expect.any(InvalidRequestError), 1]);
  });
});

import { describe, expect, it, vi } from 'vitest';
import {
  BoardLostError,
  DamagedLineError,
  InvalidRequestError,
  RefusedError,
  WrongAnswerError,
} from '../../../../host/board/errors.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import type { ErrorCode } from '../../../../shared-protocol/index.js';
import { damaged, lens } from './scripted-peer.js';
import { collect, Talk } from './talk.js';

describe('a request', () => {
  it('gets its own answer, whatever else is said meanwhile', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = ({ type }) => {
      if (type !== 'get-setting') return undefined;
      talk.peer.tell({ type: 'lamp', uptimeMs: 5, on: false, onUs: 9 });
      talk.peer.tell({ type: 'setting', name: 'metronome', value: 77 }, 4711);
      return [{ type: 'setting', name: 'lamp-lag-ms', value: 120 }];
    };
    expect(await talk.over(board.getSetting('lamp-lag-ms'))).toBe(120);
    expect(board.linkCounters.strayAnswers).toBe(1);
    await board.close();
  });

  it.each([
    'lost on its way there',
    'damaged on its way there',
    'lost on its way back',
    'damaged on its way back',
  ])('%s is sent again as the very same line', async (how) => {
    const talk = new Talk();
    const board = await talk.open();
    const lines: string[] = [];
    const spoil = (line: string) => (how.startsWith('lost') ? undefined : damaged(line));
    talk.peer.incoming = (line) => {
      lines.push(line);
      return lines.length === 1 && how.endsWith('there') ? spoil(line) : line;
    };
    let answers = 0;
    talk.peer.outgoing = (line) => (answers++ === 0 && how.endsWith('back') ? spoil(line) : line);
    expect(await talk.over(board.setSetting('metronome', 0))).toBe(0);
    expect(lines.length).toBe(2);
    expect(lines[1]).toBe(lines[0]);
    expect(board.linkCounters.repeats).toBe(1);
    await board.close();
  });

  // Of two programs one after the other, the second took the answers to the first for its own.
  it('begins with a number of its own where none is given', async () => {
    const draw = vi.spyOn(Math, 'random').mockReturnValue(0.5);
    const talk = new Talk();
    const board = await talk.over(openBoard(talk.peer.laptop, { clock: talk.clock, setClock: false }));
    draw.mockRestore();
    expect(talk.peer.heard[0]!.id).toBeGreaterThan(30_000);
    expect(talk.peer.heard[0]!.id).toBeLessThan(35_000);
    await board.close();
  });

  it('counts its number up from anywhere and wraps at 65535, never using 0', async () => {
    const talk = new Talk();
    const board = await talk.open({ draw: () => 65_532, setClock: false });
    for (let time = 0; time < 4; time++) await talk.over(board.status());
    expect(talk.peer.heard.map(({ id }) => id)).toEqual([65_533, 65_534, 65_535, 1, 2]);
    await board.close();
  });

  it('that is never answered loses the board, in bounded time and with bounded repeats', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.incoming = () => undefined;
    const before = talk.timeline.nowUs;
    const error = await talk.over(board.status()).catch((reason: unknown) => reason as Error);
    expect(String(error)).toMatch(/asked 4 times/);
    expect(String(error)).not.toMatch(/bytes came/);
    expect(talk.timeline.nowUs - before).toBe(4_000_000);
    expect(board.lost.aborted).toBe(true);
    expect(board.lost.reason).toBeInstanceOf(BoardLostError);
    await expect(board.counters()).rejects.toBe(board.lost.reason);
    await board.close();
  });

  it('that only rubbish answers says how much of it came', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.incoming = () => {
      talk.peer.say('\xff\x00\xfe');
      return undefined;
    };
    await expect(talk.over(board.status())).rejects.toThrow(/asked 4 times; 12 bytes came that are no line/);
    await board.close();
  });

  it('says only of what came since it was asked how much of it was rubbish', async () => {
    const talk = new Talk();
    talk.peer.say('old words of another device\n');
    const board = await talk.open();
    talk.peer.incoming = () => undefined;
    talk.clock.after(10, () => talk.peer.say('\xff\x00'));
    await expect(talk.over(board.status())).rejects.toThrow(/; 2 bytes came that are no line/);
    await board.close();
  });

  it('to a board that chatters but does not answer ends too', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.incoming = () => undefined;
    const chatter = () => {
      talk.peer.tell({ type: 'shown', row: 0, text: 'still here' });
      talk.clock.after(200, chatter);
    };
    chatter();
    await expect(talk.over(board.status())).rejects.toThrow(/no answer in 15 s/);
    await board.close();
  });

  it('asks a busy board again, and says so when it stays busy', async () => {
    const talk = new Talk();
    const board = await talk.open();
    let busy = 3;
    const askedAtMs: number[] = [];
    talk.peer.answer = ({ type }) =>
      type === 'choose' && askedAtMs.push(talk.clock.nowMs()) > 0 && busy-- > 0
        ? [{ type: 'error', code: 'busy', text: 'a print is under way', field: 0, low: 0, high: 0 }]
        : undefined;
    await talk.over(board.choose('strip'));
    const asked = talk.peer.heard.filter(({ type }) => type === 'choose').map(({ id }) => id);
    expect(new Set(asked).size).toBe(4);
    // In between it is left alone.
    for (const [at, atMs] of askedAtMs.slice(1).entries()) expect(atMs - askedAtMs[at]!).toBeGreaterThan(50);
    busy = Number.POSITIVE_INFINITY;
    await expect(talk.over(board.choose('strip'))).rejects.toMatchObject({ code: 'busy', exitCode: 1 });
    await board.close();
  });

  it('that is refused says which field, what was given and what is allowed', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = ({ type }) =>
      type === 'strip-set'
        ? [{ type: 'error', code: 'bad-field', text: 'too many patches', field: 4, low: 2, high: 7 }]
        : undefined;
    const strip = {
      firstMs: 5000,
      stepStops120: 60,
      stepMs: 0,
      patches: 9,
      cover: 'cumulative',
      filter: '',
    } as const;
    const error = await talk.over(board.setStrip(strip)).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(RefusedError);
    expect(error).toMatchObject({
      code: 'bad-field',
      field: 'patches',
      given: 9,
      low: 2,
      high: 7,
      exitCode: 2,
    });
    expect((error as Error).message).toBe(
      "the board refused 'strip-set': too many patches (patches is 9, allowed is 2 to 7)",
    );
    await board.close();
  });

  it('with a value that no board allows is not sent', async () => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    await expect(board.setSetting('focus-limit-s', 5)).rejects.toThrow(
      /focus-limit-s cannot be 5: give a whole number from 10 to 900 s/,
    );
    await expect(board.setSetting('knob-step', 5)).rejects.toThrow(
      /knob-step cannot be 5: give 0, 3, 6, 12 or 24 clicks a stop/,
    );
    await expect(board.setSetting('focus-limit-s', 5)).rejects.toBeInstanceOf(InvalidRequestError);
    expect(talk.peer.types()).toEqual(['hello']);
    await board.close();
  });

  it('waits for its turn when it changes something', async () => {
    const talk = new Talk();
    const board = await talk.open();
    let open = 0;
    let mostOpen = 0;
    talk.peer.answer = (message) => {
      if (message.type !== 'choose') return undefined;
      mostOpen = Math.max(mostOpen, ++open);
      talk.clock.after(50, () => {
        open--;
        talk.peer.tell({ type: 'ok' }, message.id);
      });
      return [];
    };
    await talk.over(Promise.all([board.choose('strip'), board.choose('none'), board.choose('strip')]));
    expect(mostOpen).toBe(1);
    await board.close();
  });

  it('can be broken off; the next one is not held up by it', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = ({ type }) => (type === 'choose' ? [] : undefined);
    const stop = new AbortController();
    talk.clock.after(100, () => stop.abort(new Error('enough')));
    await expect(talk.over(board.choose('strip', '', { signal: stop.signal }))).rejects.toThrow('enough');
    expect(await talk.over(board.setSetting('metronome', 1))).toBe(1);
    await expect(board.status({ signal: stop.signal })).rejects.toThrow('enough');
    await board.close();
  });
});

describe('the counters of the line', () => {
  it('begin with nothing that went wrong', async () => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    const right = { linesSent: 1, linesReceived: 1 };
    const wrong = { badLines: 0, badCrcs: 0, unreadable: 0, discardedBytes: 0, repeats: 0 };
    const passedOver = { strayAnswers: 0, wrongAnswers: 0, noticesDropped: 0 };
    expect(board.linkCounters).toEqual({ ...right, ...wrong, ...passedOver });
    expect(board.closed).toBe(false);
    await board.close();
    expect(board.closed).toBe(true);
  });

  it('tell of junk while the board is still open', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const before = board.linkCounters.discardedBytes;
    talk.peer.say(`${'~'.repeat(1000)}\njunk\n`);
    await talk.over(board.status());
    expect(board.linkCounters).toMatchObject({ badLines: 2, discardedBytes: before + 1000 + 1 + 5 });
    await board.close();
  });
});

describe('what answers nothing that was asked', () => {
  it('is also an answer that comes a second time', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = ({ type }) => (type === 'choose' ? [{ type: 'ok' }, { type: 'ok' }] : undefined);
    await talk.over(board.choose('strip'));
    await talk.over(board.status());
    expect(board.linkCounters.strayAnswers).toBe(1);
    await board.close();
  });

  it('is counted each time, and what a board tells unasked is not', async () => {
    const talk = new Talk();
    const board = await talk.open();
    for (const id of [501, 502, 503]) talk.peer.tell({ type: 'ok' }, id);
    talk.peer.tell({ type: 'lamp', uptimeMs: 1, on: false, onUs: 1 });
    await talk.over(board.status());
    expect(board.linkCounters.strayAnswers).toBe(3);
    await board.close();
  });
});

describe('an answer that comes damaged', () => {
  it.each([
    ['a wrong checksum', damaged],
    ['no checksum', () => 'junk'],
  ])('has the request sent again sooner than silence does: %s', async (_, spoil) => {
    const takenMs = async (wire: (line: string) => string | undefined) => {
      const talk = new Talk();
      const board = await talk.open();
      let isFirst = true;
      talk.peer.outgoing = (line) => {
        if (!isFirst) return line;
        isFirst = false;
        const spoilt = wire(line.trim());
        return spoilt === undefined ? undefined : `${spoilt}\n`;
      };
      const startMs = talk.clock.nowMs();
      await talk.over(board.status());
      await board.close();
      return talk.clock.nowMs() - startMs;
    };
    expect(4 * (await takenMs(spoil))).toBeLessThan(await takenMs(() => undefined));
  });
});

describe('a list', () => {
  it.each([
    ['damages', damaged, DamagedLineError, /a list never arrives whole, though asked (\d+) times/],
    [
      'swallows',
      () => undefined,
      WrongAnswerError,
      /a list came that is not whole, though asked (\d+) times/,
    ],
  ])('of which the line %s one each time is given up, and it is said why', async (_, spoil, kind, words) => {
    const talk = new Talk();
    const board = await talk.open();
    const line = { type: 'recipe-line', version: 1, title: '', passes: 1, baseMs: 1 } as const;
    talk.peer.answer = ({ type }) =>
      type === 'recipe-list'
        ? [
            { ...line, name: 'jetty', bodyCrc: '00000000', intact: true },
            { type: 'ended', count: 1 },
          ]
        : undefined;
    talk.peer.outgoing = (text) => (text.includes('jetty') ? spoil(text) : text);
    const error = await talk.over(board.listRecipes()).catch((reason: unknown) => reason as Error);
    expect(error).toBeInstanceOf(kind);
    const asked = talk.peer.types().filter((type) => type === 'recipe-list');
    expect(words.exec((error as Error).message)?.[1]).toBe(String(asked.length));
    await board.close();
  });

  it('that lost a line on the way is asked for again', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const line = {
      type: 'recipe-line',
      version: 1,
      title: 'Jetty',
      passes: 1,
      baseMs: 9000,
      bodyCrc: '0badf00d',
      intact: true,
    };
    talk.peer.answer = ({ type }) =>
      type === 'recipe-list'
        ? [
            { ...line, name: 'jetty' } as never,
            { ...line, name: 'reeds' } as never,
            { type: 'ended', count: 2 },
          ]
        : undefined;
    let lost = 0;
    talk.peer.outgoing = (text) => (text.includes('reeds') && lost++ === 0 ? damaged(text) : text);
    const recipes = await talk.over(board.listRecipes());
    expect(recipes.map(({ name }) => name)).toEqual(['jetty', 'reeds']);
    await board.close();
  });
});

describe('a quiet line', () => {
  it('is asked now and then whether the board is there, and a board that is gone is noticed', async () => {
    const talk = new Talk();
    const board = await talk.open();
    await talk.pass(12_000);
    expect(talk.peer.types().filter((type) => type === 'ping')).toHaveLength(2);
    talk.peer.incoming = () => undefined;
    await talk.pass(10_000);
    expect(board.lost.aborted).toBe(true);
    await board.close();
  });

  const calm = { state: 'rest', job: 'none', name: '', lensConfirmed: false, pedalStuck: false } as const;
  const counts = { oldestSeq: 1, nextSeq: 1, entriesLeft: 1, recipes: 0 };
  /** What a board tells that was at `before` and, five seconds later, is at `after`. */
  async function told(
    before: { boot: number; uptimeMs: number },
    after: { boot: number; uptimeMs: number },
  ): Promise<string> {
    const talk = new Talk();
    talk.peer.welcome = before;
    const board = await talk.open();
    let run = before;
    talk.peer.answer = ({ type }) =>
      type === 'ping' ? [{ type: 'status', ...calm, ...counts, ...run }] : undefined;
    await talk.pass(6000);
    expect(board.lost.aborted).toBe(false);
    run = after;
    await talk.pass(6000);
    const { aborted, reason } = board.lost;
    await board.close();
    return aborted ? String(reason) : 'there';
  }

  it('notices a board that started anew, however long it had been up', async () => {
    expect(await told({ boot: 7, uptimeMs: 500_000 }, { boot: 8, uptimeMs: 2000 })).toMatch(
      /it started anew/,
    );
    expect(await told({ boot: 7, uptimeMs: 3_000_000_000 }, { boot: 8, uptimeMs: 2000 })).toMatch(/anew/);
    expect(await told({ boot: 7, uptimeMs: 500_000 }, { boot: 7, uptimeMs: 2000 })).toMatch(/anew/);
  });

  // A board that started anew while its port stayed open answers no ping before a hello: `watch` listened to it for ever.
  it('notices a board that knows nothing of the conversation any more', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = ({ type }) =>
      type === 'ping'
        ? [{ type: 'error', code: 'not-allowed', text: 'say hello first', field: 0, low: 0, high: 0 }]
        : undefined;
    await talk.pass(6000);
    expect(String(board.lost.reason)).toMatch(/it started anew/);
    await board.close();
  });

  it('that refuses and then tells why it will not say how it is, is not taken for one that started anew', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const refuse = (code: ErrorCode) =>
      [{ type: 'error', code, text: '', field: 0, low: 0, high: 0 }] as const;
    talk.peer.answer = ({ type }) => {
      if (type === 'choose') return refuse('not-allowed');
      return type === 'ping' ? refuse('damaged') : undefined;
    };
    await expect(talk.over(board.choose('strip'))).rejects.toMatchObject({ code: 'damaged' });
    expect(board.lost.aborted).toBe(false);
    await board.close();
  });

  it('takes any other refusal for a sign of life', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = ({ type }) =>
      type === 'ping' ? [{ type: 'error', code: 'damaged', text: '', field: 0, low: 0, high: 0 }] : undefined;
    await talk.pass(12_000);
    expect(talk.peer.types().filter((type) => type === 'ping')).toHaveLength(2);
    expect(board.lost.aborted).toBe(false);
    await board.close();
  });

  it('does not take the uptime that wraps after 49.7 days for a restart', async () => {
    expect(await told({ boot: 7, uptimeMs: 2 ** 32 - 3000 }, { boot: 7, uptimeMs: 2000 })).toBe('there');
  });

  it('no longer asks once it is closed', async () => {
    const talk = new Talk();
    const board = await talk.open();
    await board.close();
    expect(talk.timeline.nextUs).toBeUndefined();
    expect(talk.peer.laptop.destroyed).toBe(true);
  });
});

describe('notices', () => {
  it('come as they are told, and end with the signal', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const stop = new AbortController();
    talk.clock.after(100, () => talk.peer.tell({ type: 'lamp', uptimeMs: 1, on: true, onUs: 0 }));
    talk.clock.after(200, () => talk.peer.tell({ type: 'lamp', uptimeMs: 2, on: false, onUs: 1000 }));
    talk.clock.after(300, () => stop.abort());
    const notices = await talk.over(collect(board.notices({ signal: stop.signal })));
    expect(notices.map((notice) => notice.type === 'lamp' && notice.on)).toEqual([true, false]);
    expect(talk.peer.heard.filter(({ type }) => type === 'watch')).toMatchObject([
      { on: true },
      { on: false },
    ]);
    await board.close();
  });

  it('are what a board tells unasked, and nothing else', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const stop = new AbortController();
    const lamp = (onUs: number) => ({ type: 'lamp', uptimeMs: 1, on: false, onUs }) as const;
    talk.clock.after(100, () => {
      talk.peer.tell(lens(5));
      talk.peer.tell(lamp(1), 77);
      talk.peer.tell(lamp(2));
    });
    talk.clock.after(200, () => stop.abort());
    expect(await talk.over(collect(board.notices({ signal: stop.signal })))).toMatchObject([{ onUs: 2 }]);
    await board.close();
  });

  it('that a board will not stop telling end with its refusal', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = (message) =>
      message.type === 'watch' && !message.on
        ? [{ type: 'error', code: 'not-allowed', text: 'no', field: 0, low: 0, high: 0 }]
        : undefined;
    const stop = new AbortController();
    talk.clock.after(100, () => stop.abort());
    await expect(talk.over(collect(board.notices({ signal: stop.signal })))).rejects.toMatchObject({
      code: 'not-allowed',
    });
    await board.close();
  });

  it('end with the error when the board is lost, and quietly when this side closes', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.clock.after(100, () => talk.peer.vanish());
    await expect(talk.over(collect(board.notices()))).rejects.toThrow(/its port went away/);

    const other = new Talk();
    const second = await other.open();
    other.clock.after(100, () => void second.close());
    expect(await other.over(collect(second.notices()))).toEqual([]);
  });

  it('that nobody takes are dropped, oldest first, and counted', async () => {
    const talk = new Talk();
    const board = await talk.open();
    const notices = board.notices();
    const first = notices.next();
    await talk.pass(1);
    for (let onUs = 0; onUs < 300; onUs++) talk.peer.tell({ type: 'lamp', uptimeMs: 1, on: false, onUs });
    expect((await talk.over(first)).value).toMatchObject({ onUs: 0 });
    await talk.pass(1);
    expect((await talk.over(notices.next())).value).toMatchObject({ onUs: 300 - 256 });
    expect(board.linkCounters.noticesDropped).toBe(300 - 256 - 1);
    await talk.over(notices.return());
    await board.close();
  });
});

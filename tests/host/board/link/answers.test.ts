import { describe, expect, it } from 'vitest';
import { BoardLostError, DamagedLineError, WrongAnswerError } from '../../../../host/board/errors.js';
import { mostEntries } from '../../../../host/board/link/answer-sense.js';
import type { Board } from '../../../../host/board/link/board.js';
import { stayConnected } from '../../../../host/board/link/stay-connected.js';
import {
  limits,
  type MessageOf,
  messages,
  messageTypes,
  replies,
  type SettingName,
  settings,
} from '../../../../shared-protocol/index.js';
import { recipe, strip } from './laptop.js';
import { damaged, lens, type ScriptedPeer, sealed } from './scripted-peer.js';
import { collect, Talk } from './talk.js';

type Said = NonNullable<ReturnType<ScriptedPeer['answer']>>;

/** A board that answers requests of one type so, and all others as it should. */
async function answering(type: string, said: (request: MessageOf<never>) => Said) {
  const talk = new Talk();
  const board = await talk.open();
  talk.peer.answer = (message) => (message.type === type ? said(message as MessageOf<never>) : undefined);
  return { talk, board };
}

async function failure(talk: Talk, work: Promise<unknown>): Promise<WrongAnswerError> {
  const error = await talk.over(work).catch((reason: unknown) => reason);
  expect(error).toBeInstanceOf(WrongAnswerError);
  expect(error).toMatchObject({ exitCode: 1 });
  return error as WrongAnswerError;
}

const calm = { state: 'rest', job: 'none', name: '', lensConfirmed: false, pedalStuck: false } as const;
const counts = { oldestSeq: 1, nextSeq: 1, entriesLeft: 1, recipes: 0, boot: 7, uptimeMs: 2000 };
const status = { type: 'status', ...calm, ...counts } as const;
/** What each was taken for, when any answer would do. */
const wrongTypes: [string, string, (board: Board) => Promise<unknown>][] = [
  ['send', 'recipe-begin', (board) => board.sendRecipe(recipe('Jetty'))],
  ['set a setting', 'set-setting', (board) => board.setSetting('tone-volume', 30)],
  ['remove', 'recipe-remove', (board) => board.removeRecipe('jetty')],
  ['choose', 'choose', (board) => board.choose('strip')],
  ['set a strip', 'strip-set', (board) => board.setStrip(strip)],
  ['count', 'diagnose', (board) => board.counters()],
  ['list', 'recipe-list', (board) => board.listRecipes()],
  ['forget', 'forget', (board) => board.forget(1)],
];

describe('the table of answers', () => {
  it('has an answer for every request, and nothing else', () => {
    const requests = messageTypes.filter((type) => messages[type].role === 'request');
    expect(Object.keys(replies).sort()).toEqual(requests.sort());
  });
});

describe('a board that answers with what is no answer', () => {
  it.each(wrongTypes)('is not believed: %s, answered by status', async (_, type, ask) => {
    const { talk, board } = await answering(type, () => [status]);
    const { message } = await failure(talk, ask(board));
    expect(message).toMatch(
      new RegExp(`asked '${type}', 'status' came in place of '${replies[type as 'ping'].end}'`),
    );
    expect(board.lost.aborted).toBe(false);
    expect(board.linkCounters.wrongAnswers).toBe(4);
    await board.close();
  });

  it('is not believed about another setting, another value, or one outside its range', async () => {
    for (const said of [
      { name: 'metronome', value: 30 },
      { name: 'tone-volume', value: 31 },
    ] as const) {
      const { talk, board } = await answering('set-setting', () => [{ type: 'setting', ...said }]);
      await failure(talk, board.setSetting('tone-volume', 30));
      await board.close();
    }
    const { talk, board } = await answering('get-setting', () => [
      { type: 'setting', name: 'tone-volume', value: 101 },
    ]);
    await failure(talk, board.getSetting('tone-volume'));
    await board.close();
  });

  it.each(Object.keys(settings) as SettingName[])(
    'is believed about the least and the most of a setting, and of no more: %s',
    async (name) => {
      const { min, max } = settings[name];
      const { talk, board } = await answering('get-setting', () => []);
      const say = (value: number) => {
        talk.peer.answer = ({ type }) =>
          type === 'get-setting' ? [{ type: 'setting', name, value }] : undefined;
        return board.getSetting(name);
      };
      expect(await talk.over(say(min))).toBe(min);
      expect(await talk.over(say(max))).toBe(max);
      await failure(talk, say(max + 1));
      if (min > 0) await failure(talk, say(min - 1));
      await board.close();
    },
  );

  it('is not believed about more recipes than it keeps, nor about a log that goes backwards', async () => {
    for (const told of [{ recipes: limits.recipes + 1 }, { oldestSeq: 6, nextSeq: 5 }]) {
      const { talk, board } = await answering('ping', () => [{ ...status, ...told }]);
      await failure(talk, board.status());
      await board.close();
    }
  });

  it('is believed about a log that fills all of its storage, and about no longer one', async () => {
    const { talk, board } = await answering('ping', () => []);
    const say = (told: Partial<typeof status>) => {
      talk.peer.answer = ({ type }) => (type === 'ping' ? [{ ...status, ...told } as never] : undefined);
      return board.status();
    };
    await talk.over(say({ oldestSeq: 5, nextSeq: 5 + mostEntries, entriesLeft: 0 }));
    await talk.over(say({ entriesLeft: mostEntries, recipes: limits.recipes }));
    const { message } = await failure(talk, say({ oldestSeq: 5, nextSeq: 6 + mostEntries }));
    expect(message).toContain(`${mostEntries + 1} log entries came`);
    await failure(talk, say({ entriesLeft: mostEntries + 1 }));
    await board.close();
  });

  // Of the flash's page and of what a chip can address: no entry takes less than a byte.
  it('is not believed about more entries than its storage has bytes, nor one of another version of any flash', async () => {
    const { talk, board } = await answering('ping', () => [
      { ...status, nextSeq: 1 + limits.storageBytes, entriesLeft: 0 },
    ]);
    expect((await failure(talk, board.status())).message).toMatch(/log entries came, more than fit/);
    await board.close();
    const other = new Talk();
    other.peer.welcome = { schemaHash: '00000000' };
    // The RP2040 addresses 16 MiB of flash (RP2040 datasheet, 2.6.3).
    const endSeq = 16 * 1024 * 1024;
    other.peer.answer = ({ type }) =>
      type === 'collect' ? [lens(0), { type: 'collected', nextSeq: 1, endSeq }] : undefined;
    const second = await other.open({ acceptOtherVersion: true });
    expect((await failure(other, collect(second.collect(0)))).message).toMatch(/entries, more than fit/);
    await second.close();
  });

  it('is not believed about a recipe of another name', async () => {
    const { talk, board } = await answering('recipe-get', () => [
      { type: 'recipe-begin', name: 'other', passes: 1, dodges: 0 },
      { type: 'ended', count: 1 },
    ]);
    expect((await failure(talk, board.getRecipe('jetty'))).message).toContain(
      'name "other" came in place of "jetty"',
    );
    await board.close();
  });

  it('is not believed about a row of baths that grew or shrank while it was told', async () => {
    for (const baths of [2, 4]) {
      const times = { resinCoatedSeconds: 60, fibreSeconds: 60, drainSeconds: 5, agitationSeconds: 0 };
      const { talk, board } = await answering('bath-get', ({ bath }: MessageOf<'bath-get'>) => [
        {
          ...{ type: 'bath', bath, baths: bath === 1 ? 3 : baths, label: `bath ${bath}`, ...times },
          ...{ limitCm2: 0, sheets: 0, areaCm2: 0 },
        } as never,
      ]);
      expect((await failure(talk, board.allBaths())).message).toContain(
        `a row of 3 baths came, then of ${baths}`,
      );
      await board.close();
    }
  });

  it('is not believed about what its own schema does not allow', async () => {
    const talk = new Talk();
    const board = await talk.open();
    talk.peer.answer = ({ type, id }) => {
      if (type !== 'get-setting') return undefined;
      talk.peer.say(sealed(`["setting",${id},"tone-volume","loud"`));
      return [];
    };
    await failure(talk, board.getSetting('tone-volume'));
    await board.close();
  });

  it('is not believed in a message that nobody here knows', async () => {
    const { talk, board } = await answering('get-setting', ({ id }: MessageOf<'get-setting'>) => {
      talk.peer.say(sealed(`["polished",${id},1,2`));
      return [];
    });
    expect((await failure(talk, board.getSetting('tone-volume'))).message).toContain('something unknown');
    expect(board.linkCounters.wrongAnswers).toBe(4);
    await board.close();
  });

  it('is given a second chance: what came may have been meant for somebody before', async () => {
    let first = true;
    const { talk, board } = await answering('get-setting', () => {
      if (!first) return [{ type: 'setting', name: 'metronome', value: 1 }];
      first = false;
      return [{ type: 'ok' }];
    });
    expect(await talk.over(board.getSetting('metronome'))).toBe(1);
    await board.close();
    expect(talk.timeline.nextUs).toBeUndefined();
  });

  it('is not connected anew: it is there, and would say the same again', async () => {
    const { talk, board } = await answering('diagnose', () => [status]);
    let plugs = 0;
    const work = stayConnected(
      board,
      () => {
        plugs++;
        return talk.peer.laptop;
      },
      (current) => current.counters(),
      { clock: talk.clock },
    );
    await failure(talk, work);
    expect(plugs).toBe(0);
  });

  it('is not listened to without end', async () => {
    const { talk, board } = await answering('recipe-list', () => []);
    let told = 0;
    talk.peer.answer = ({ type, id }) => {
      if (type !== 'recipe-list') return undefined;
      const go = () => {
        const line = { type: 'recipe-line', version: 1, title: '', passes: 1, baseMs: 1 } as const;
        talk.peer.tell({ ...line, name: `r${told++}`, bodyCrc: '00000000', intact: true }, id);
        talk.clock.after(1, go);
      };
      go();
      return [];
    };
    expect((await failure(talk, board.listRecipes())).message).toMatch(/a list of more than 64 lines/);
    expect(told).toBeLessThan(200);
    await board.close();
  });
});

describe('a list of as many recipes as a board keeps', () => {
  const told = Array.from({ length: limits.recipes }, (_, at) => ({
    ...{
      type: 'recipe-line',
      version: 1,
      title: '',
      passes: 1,
      baseMs: 1,
      bodyCrc: '00000000',
      intact: true,
    },
    name: `r${at}`,
  })) as unknown as Said;
  /** Each line so often; the first time only, or whenever it is asked for. */
  async function listed(times: number, once: boolean) {
    let asked = 0;
    const { talk, board } = await answering('recipe-list', () => {
      const often = once && asked++ > 0 ? 1 : times;
      const lines = told.flatMap((line) => Array<(typeof told)[number]>(often).fill(line));
      return [...lines, { type: 'ended', count: limits.recipes }];
    });
    return { talk, board, work: talk.over(board.listRecipes()) };
  }

  it('each of whose lines is doubled on the way is asked for again', async () => {
    const { board, work } = await listed(2, true);
    expect(await work).toHaveLength(limits.recipes);
    await board.close();
  });

  it('is not listened to where each line comes three times over', async () => {
    const { talk, board, work } = await listed(3, false);
    expect((await failure(talk, work)).message).toMatch(/a list of more than 64 lines came/);
    await board.close();
  });
});

describe('a log that cannot be', () => {
  const collected = (nextSeq: number, endSeq: number) => ({ type: 'collected', nextSeq, endSeq }) as const;

  it.each([
    ['makes no headway towards an end that no flash holds', 0, 0xffff_ffff, /\d{10} entries, more than fit/],
    ['goes backwards', -5, 100, /backwards/],
    ['goes on past its end', 64, 10, /past its end/],
    ['tells of records that never come', 64, 1000, /records up to 73, and none came/],
  ])('is not believed: it %s', async (_, on, endSeq, words) => {
    const { talk, board } = await answering('collect', ({ fromSeq }: { fromSeq: number }) => [
      collected(Math.max(fromSeq + on, 0), endSeq),
    ]);
    talk.peer.log = [lens(10), lens(11)];
    expect((await failure(talk, collect(board.collect(10)))).message).toMatch(words);
    expect(talk.peer.types().filter((type) => type === 'collect').length).toBeLessThan(20);
    await board.close();
  });

  it('is not believed: it tells of a record before those that were asked for', async () => {
    const { talk, board } = await answering('collect', () => [lens(5), lens(3), lens(6), collected(7, 7)]);
    const { message } = await failure(talk, collect(board.collect(5)));
    expect(message).toMatch(/record 3 came where records from 5 were asked for/);
    await board.close();
  });

  it('fills all of the storage and is believed, or has one entry more and is not', async () => {
    const upTo = async (nextSeq: number, endSeq: number) => {
      const { talk, board } = await answering('ping', () => [{ ...status, nextSeq, entriesLeft: 0 }]);
      talk.peer.answer = (message) => {
        if (message.type === 'ping') return [{ ...status, nextSeq, entriesLeft: 0 }];
        if (message.type !== 'collect') return undefined;
        const { fromSeq, count } = message;
        return [
          ...Array.from({ length: count }, (_, at) => lens(fromSeq + at)),
          collected(fromSeq + count, endSeq),
        ];
      };
      const first = async () => {
        for await (const { records } of board.collect(1)) return records.length;
        return 0;
      };
      return { talk, board, work: talk.over(first()) };
    };
    const full = await upTo(1 + mostEntries, 1 + mostEntries);
    expect(await full.work).toBe(limits.collectRecords);
    await full.board.close();
    const longer = await upTo(1 + mostEntries, 2 + mostEntries);
    expect((await failure(longer.talk, longer.work)).message).toMatch(/entries, more than fit/);
    await longer.board.close();
  });

  // An archive was held open for good by a board that always had one record more.
  it('never ends is given up in the end, and what came of it is there', async () => {
    const { talk, board } = await answering('collect', ({ fromSeq, count }: MessageOf<'collect'>) => [
      ...Array.from({ length: count }, (_, at) => lens(fromSeq + at)),
      collected(fromSeq + count, fromSeq + 10 * count),
    ]);
    let came = 0;
    const batches = board.collect(1);
    const next = async () => {
      const { value } = await talk.over(batches.next());
      came += value?.records.length ?? 0;
      await talk.pass(600_000);
    };
    const work = (async () => {
      for (let times = 0; times < 20; times++) await next();
    })();
    const error = await work.catch((reason: unknown) => reason as Error);
    expect(error).toBeInstanceOf(WrongAnswerError);
    expect(String(error)).toMatch(/its log did not end within 60 minutes/);
    expect(came).toBeGreaterThan(limits.collectRecords);
    await board.close();
  });

  it('of 2 to the 31st with every second record missing ends at once', async () => {
    const { talk, board } = await answering('collect', ({ fromSeq, count }: MessageOf<'collect'>) => [
      ...Array.from({ length: count }, (_, at) => lens(fromSeq + 2 * at)),
      collected(fromSeq + 2 * count, 2 ** 31),
    ]);
    await failure(talk, collect(board.collect(1)));
    await board.close();
    const other = await answering('ping', () => [{ ...status, nextSeq: 2 ** 31 }]);
    await failure(other.talk, collect(other.board.collect(1)));
    await other.board.close();
  });

  it('of a board of another version is bounded by the largest flash', async () => {
    const talk = new Talk();
    talk.peer.welcome = { schemaHash: '00000000' };
    talk.peer.answer = (message) =>
      message.type === 'collect'
        ? [
            ...Array.from({ length: message.count }, (_, at) => lens(message.fromSeq + at)),
            collected(message.fromSeq + message.count, message.fromSeq + 200),
          ]
        : undefined;
    const board = await talk.open({ acceptOtherVersion: true });
    let windows = 0;
    const work = (async () => {
      for await (const _ of board.collect(0)) if (++windows > 100) return 'no end';
      return 'end';
    })();
    expect(await talk.over(work)).toBe('no end');
    const far = new Talk();
    far.peer.welcome = { schemaHash: '00000000' };
    far.peer.answer = (message) =>
      message.type === 'collect' ? [lens(5), collected(6, 0xffff_ffff)] : undefined;
    const second = await far.open({ acceptOtherVersion: true });
    await failure(far, collect(second.collect(5)));
    await board.close();
    await second.close();
  });

  it('whose end has rotted is told to its end: what is missing, and no number more', async () => {
    const talk = new Talk();
    talk.peer.log = Array.from({ length: 10 }, (_, at) => lens(at + 1));
    talk.peer.rotAfter(6);
    const board = await talk.open();
    const batches = await talk.over(collect(board.collect(1)));
    expect(batches.flatMap(({ records }) => records.map(({ seq }) => seq))).toEqual([1, 2, 3, 4, 5, 6]);
    expect(batches.flatMap(({ holes }) => [...holes])).toEqual([7, 8, 9, 10]);
    await board.close();
  });
});

describe('a line that damages too much', () => {
  it('is told as that; the board is not lost, and not looked for', async () => {
    const talk = new Talk();
    talk.peer.log = Array.from({ length: 5 }, (_, at) => lens(at + 1));
    const board = await talk.open();
    talk.peer.outgoing = (line) => (line.includes(',1,3,') ? damaged(line) : line);
    const error = await talk.over(collect(board.collect(1))).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(DamagedLineError);
    expect(error).not.toBeInstanceOf(BoardLostError);
    expect((error as Error).message).toMatch(/1 log entry never arrived whole.*treadle diagnose/);
    expect(board.lost.aborted).toBe(false);
    await board.close();
  });
});

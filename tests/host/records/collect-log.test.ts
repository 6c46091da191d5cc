import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BoardLostError, RefusedError } from '../../../host/board/errors.js';
import type { Board } from '../../../host/board/link/board.js';
import { holdPedal } from '../../../host/board/sim/controls.js';
import { Flash } from '../../../host/board/sim/flash.js';
import { collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { ArchiveError } from '../../../host/records/archive-error.js';
import type { ErrorCode } from '../../../shared-protocol/index.js';
import { listOf } from '../../setup/list-of.js';
import { CutCable, LaptopAndBoard } from '../board/link/laptop.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-pull-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

/** What lies on the flash of a board that was started so many times. */
function startedTimes(starts: number): Uint8Array {
  const { board } = new LaptopAndBoard();
  for (let run = 1; run < starts; run++) {
    board.advanceUs(1_000_000);
    board.reset('watchdog');
  }
  board.advanceUs(1_000_000);
  return board.flash.image();
}

function refusal(code: ErrorCode): RefusedError {
  const nothing = { subject: undefined, field: undefined, given: undefined, low: undefined, high: undefined };
  return new RefusedError({ request: 'forget', code, text: code, ...nothing });
}

/** The board, telling of each batch the first record alone. */
function onlyFirst(board: Board): Board {
  return new Proxy(board, {
    get: (target, name) => {
      const value = Reflect.get(target, name) as unknown;
      if (name !== 'collect') return typeof value === 'function' ? value.bind(target) : value;
      return async function* (...from: Parameters<Board['collect']>) {
        for await (const batch of target.collect(...from)) {
          yield { ...batch, records: batch.records.slice(0, 1) };
          return;
        }
      };
    },
  });
}

/** A board with so many starts in its log, set down by its own core. */
function boardWithLog(starts: number, image = startedTimes(starts - 1)): LaptopAndBoard {
  const flash = new Flash();
  flash.load(image);
  const pair = new LaptopAndBoard({ flash });
  pair.board.advanceUs(1_000_000);
  return pair;
}

async function pull(pair: LaptopAndBoard, name = 'archive', cable = new CutCable(pair.board.plug())) {
  const archive = await openArchive(join(folder, `${name}.sqlite`), pair.clock);
  try {
    return await pair.with((board) => collectIntoArchive(archive, board), cable.laptop);
  } finally {
    await archive.close();
  }
}

async function archived(name = 'archive'): Promise<string[]> {
  await using archive = await openArchive(join(folder, `${name}.sqlite`));
  return (await listOf(archive.records())).map(({ boot, seq, type }) => `${boot}/${seq} ${type}`);
}

describe('pulling a log into the archive', () => {
  it('brings everything once, and lets the board forget it', async () => {
    const pair = boardWithLog(150);
    expect(await pull(pair)).toMatchObject({ added: 151, known: 0, holes: [], forgottenUptoSeq: 151 });
    const records = await archived();
    expect(records).toEqual([
      ...Array.from({ length: 150 }, (_, at) => `${at + 1}/${at + 1} started`),
      '150/151 clock',
    ]);
    const { oldestSeq, nextSeq } = await pair.with((board) => board.status());
    expect([oldestSeq, nextSeq]).toEqual([152, 152]);
    expect(await pull(pair)).toMatchObject({ added: 1, known: 0 });
    expect(new Set(await archived()).size).toBe(152);
  });

  it('into a second archive brings what the board still has', async () => {
    const pair = boardWithLog(3);
    await pull(pair, 'one');
    await pull(pair, 'two');
    expect(await archived('one')).toHaveLength(4);
    expect(await archived('two')).toEqual(['3/5 clock']);
  });

  it('broken off at any message, it has everything once in the end', async () => {
    const image = startedTimes(129);
    const uncut = boardWithLog(130, image);
    const whole = new CutCable(uncut.board.plug());
    await pull(uncut, 'whole', whole);
    const expected = (await archived('whole')).filter((record) => record.endsWith('started'));
    const boundaries = [...Array(whole.linesPassed + 1).keys()];
    for (const boundary of boundaries.filter(
      (at) => at < 12 || at % 16 === 0 || at > boundaries.length - 8,
    )) {
      const name = `cut-${boundary}`;
      const pair = boardWithLog(130, image);
      const broken = pull(pair, name, new CutCable(pair.board.plug(), boundary));
      if (boundary < whole.linesPassed) await expect(broken, name).rejects.toBeInstanceOf(BoardLostError);
      else await broken;
      await pull(pair, name);
      const records = await archived(name);
      expect(records.filter((record) => record.endsWith('started'))).toEqual(expected);
      expect(new Set(records).size).toBe(records.length);
    }
  });

  it('keeps what a board logged before its flash was wiped apart from what it logs afterwards', async () => {
    const pair = boardWithLog(5);
    await pull(pair);
    const { flash } = pair.board;
    flash.load(new Uint8Array(flash.size).fill(0xff));
    pair.board.reset('power');
    pair.board.advanceUs(5_000_000);
    await pull(pair);
    await using archive = await openArchive(join(folder, 'archive.sqlite'));
    const records = (await listOf(archive.records())).map(({ log, seq, type }) => `${log}:${seq} ${type}`);
    expect(records.slice(-2)).toEqual(['1:1 started', '1:2 clock']);
    expect(records).toHaveLength(6 + 2);
  });

  it('says why the archive does not take it, and tries no other log for that; the board keeps all', async () => {
    const pair = boardWithLog(3);
    const file = join(folder, 'archive.sqlite');
    const logs: number[] = [];
    const refusing = {
      ...{ file, latestLog: async () => ({ log: 4, nextSeq: 0 }), countHeld: async () => 0 },
      keepRecords: async (_: string, log: number) => {
        logs.push(log);
        throw new ArchiveError(file, 'the disk is full');
      },
    };
    await expect(pair.with((board) => collectIntoArchive(refusing, board))).rejects.toThrow(
      /the disk is full/,
    );
    expect(logs).toEqual([4]);
    expect(await pull(pair)).toMatchObject({ known: 0, holes: [] });
    expect((await archived()).filter((record) => record.endsWith('started'))).toHaveLength(3);
  });

  it('lets a board forget nothing of what the file does not give back', async () => {
    const pair = boardWithLog(3);
    await using archive = await openArchive(join(folder, 'archive.sqlite'), pair.clock);
    const losing = {
      ...{ file: archive.file, latestLog: archive.latestLog.bind(archive) },
      keepRecords: archive.keepRecords.bind(archive),
      countHeld: async (...place: Parameters<typeof archive.countHeld>) =>
        (await archive.countHeld(...place)) - 1,
    };
    await expect(pair.with((board) => collectIntoArchive(losing, board))).rejects.toThrow(
      /4 records were written to it and 3 can be read: the board keeps them/,
    );
    const { oldestSeq } = await pair.with((board) => board.status());
    expect(oldestSeq).toBe(1);
  });

  it.each<[string, Error, RegExp | undefined]>([
    ['busy', refusal('busy'), undefined],
    ['otherwise refusing', refusal('damaged'), /damaged/],
    ['gone', new BoardLostError('/dev/x', 'it was unplugged'), /unplugged/],
  ])(
    'is over all the same where the board is %s when it is to forget, or says so',
    async (_, error, words) => {
      const pair = boardWithLog(3);
      await using archive = await openArchive(join(folder, 'archive.sqlite'), pair.clock);
      const work = pair.with((board) => {
        const unforgetting = new Proxy(board, {
          get: (target, name) => {
            if (name === 'forget') return () => Promise.reject(error);
            const value = Reflect.get(target, name) as unknown;
            return typeof value === 'function' ? value.bind(target) : value;
          },
        });
        return collectIntoArchive(archive, unforgetting);
      });
      if (words === undefined)
        expect(await work).toMatchObject({ added: 4, known: 0, forgottenUptoSeq: undefined });
      else await expect(work).rejects.toThrow(words);
      expect((await listOf(archive.records())).length).toBe(4);
    },
  );

  it('says which numbers the board has no record for', async () => {
    const pair = boardWithLog(6);
    await using archive = await openArchive(join(folder, 'archive.sqlite'), pair.clock);
    const report = await pair.with((board) => {
      const rotten = new Proxy(board, {
        get: (target, name) => {
          const value = Reflect.get(target, name) as unknown;
          if (name !== 'collect') return typeof value === 'function' ? value.bind(target) : value;
          return async function* (...from: Parameters<typeof board.collect>) {
            for await (const batch of board.collect(...from))
              yield { ...batch, records: batch.records.filter(({ seq }) => seq !== 3), holes: [3] };
          };
        },
      });
      return collectIntoArchive(archive, rotten);
    });
    expect(new Set(report.holes)).toEqual(new Set([3]));
    expect(report.added).toBe(6);
  });

  it('lets it forget none of a batch of one either', async () => {
    const pair = boardWithLog(3);
    const file = join(folder, 'archive.sqlite');
    const losing = {
      ...{ file, latestLog: async () => ({ log: 0, nextSeq: 4 }), keepRecords: async () => 1 },
      countHeld: async () => 0,
    };
    const work = pair.with((board) => collectIntoArchive(losing, onlyFirst(board)));
    await expect(work).rejects.toThrow(/\d records were written to it and 0 can be read/);
  });

  it('records the light of focusing with its time', async () => {
    const pair = boardWithLog(1);
    await pair.with((board) => board.status());
    holdPedal(pair.board, 1000);
    expect(pair.board.lampOn).toBe(true);
    pair.board.advanceUs(4_000_000);
    holdPedal(pair.board, 1000);
    expect(pair.board.lampOn).toBe(false);
    pair.board.advanceUs(1_000_000);
    await pull(pair);
    expect(await archived()).toContain('2/4 exposure');
  });
});

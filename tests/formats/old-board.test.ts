import { describe, expect, it } from 'vitest';
import type { Archive } from '../../host/records/archive/archive.js';
import { collectIntoArchive } from '../../host/records/archive/collect-log.js';
import { openArchive } from '../../host/records/archive/file-archive.js';
import { logEntries } from '../../host/records/log/log-entry.js';
import { nameNow } from '../../shared-protocol/index.js';
import { LaptopAndBoard } from '../host/board/link/laptop.js';
import { ownFolder } from '../proof/robustness/archive-folder.js';
import { listOf } from '../setup/list-of.js';
import { seedArchive, seedArchived, seedCore, seedFlash, seedHeld } from './seed.js';

// Log records and the requests for them were renamed after format 1: a night's log would have stayed on the board.
describe.each([1])('the board and the archive of format %i, before a laptop of this build:', (format) => {
  const fileOf = ownFolder();
  const held = seedHeld(format);
  const archived = seedArchived(format);

  /** The very core of then, with the flash that it left. */
  function oldBoard(): LaptopAndBoard {
    const module = seedCore(format);
    const pair = new LaptopAndBoard({ module, flash: seedFlash(format), boardId: archived.board });
    pair.board.advanceUs(1_000_000);
    return pair;
  }

  async function collectFrom(pair: LaptopAndBoard, archive: Archive) {
    const board = await pair.open(pair.board.plug(), { acceptOtherVersion: true });
    const mismatch = board.mismatch;
    const report = await pair.over(collectIntoArchive(archive, board));
    await board.close();
    return { mismatch, report };
  }

  it('the log of such a board is collected whole, and the board may forget it', async () => {
    await using archive = await openArchive(fileOf('new.sqlite'));
    const pair = oldBoard();
    const { mismatch, report } = await collectFrom(pair, archive);
    expect(mismatch).toMatchObject({ update: 'board', board: { protocol: 1 } });
    // No status tells another version what was forgotten: those numbers are asked for as well.
    expect(report.holes).toEqual(Array.from({ length: held.oldestSeq - 1 }, (_, at) => at + 1));
    const known = (await listOf(archive.records())).filter(({ seq }) => seq < held.nextSeq);
    expect(known.map(({ type, fields }) => [type, ...fields])).toEqual(
      held.log.map(([, type, ...fields]) => [nameNow(type), ...fields]),
    );
    const entries = await listOf(logEntries(archive.records()));
    expect(entries.filter(({ kind }) => kind === 'unreadable')).toEqual([]);
    pair.board.advanceUs(1_000_000);
    expect((await collectFrom(pair, archive)).report).toMatchObject({ added: 0, known: 0 });
  });

  it('what a laptop of then has archived already is known again under the names of today', async () => {
    await using archive = await openArchive(seedArchive(format, fileOf('both.sqlite')));
    const before = (await listOf(archive.records())).length;
    const { report } = await collectFrom(oldBoard(), archive);
    expect(report.known).toBeGreaterThanOrEqual(held.log.length);
    expect(new Set((await listOf(archive.records())).map(({ log }) => log))).toEqual(new Set([0]));
    expect(await listOf(archive.records())).toHaveLength(before + report.added);
  });

  it('an archive of then reads as it was written, with words for every record', async () => {
    await using archive = await openArchive(seedArchive(format, fileOf('old.sqlite')));
    const recipes = await archive.recipes();
    expect(recipes.map(({ content: _, how: _how, bodyCrc: _crc, ...then }) => then)).toEqual(
      archived.recipes,
    );
    const remarks = await archive.remarks();
    expect(remarks.map(({ sheet }) => sheet)).toEqual(remarks.map(() => null));
    expect(remarks.map(({ content: _, sheet: _sheet, ...then }) => then)).toEqual(archived.remarks);
    // Version 2 was made at the board, so that no laptop of then ever had it.
    expect(remarks.map(({ content }) => recipes.find((one) => one.content === content)?.recipe.name)).toEqual(
      [undefined, 'skelder-mere'],
    );
    const told = (await listOf(archive.records())).map(({ log, type, fields }) => [log, type, ...fields]);
    expect(told).toEqual(archived.records);
    const entries = await listOf(logEntries(archive.records()));
    expect(entries.filter(({ kind }) => kind === 'unreadable')).toEqual([]);
    expect(entries.filter(({ kind }) => kind === 'strip-reading')).toHaveLength(3);
  });
});

import { InputError } from '../../../errors.js';
import { loadPlanner } from '../../../recipe/planner/index.js';
import type { ArchiveReader } from '../../../records/archive/archive.js';
import { nightAsked, whole } from './night-key.js';
import { readNight, type SheetOfNight } from './sheets-of-night.js';

/** The page asked for a sheet that the archive does not have there. */
export class NoSuchSheetError extends InputError {
  override readonly name = 'NoSuchSheetError';
}

/** The sheet that an address names: by its night, if it has one, and by the record that begins it. @throws NoSuchSheetError */
export async function sheetAt(archive: ArchiveReader, query: URLSearchParams): Promise<SheetOfNight> {
  const [board, log, boot, seq] = [
    query.get('board'),
    ...['log', 'boot', 'seq'].map((name) => whole(query, name)),
  ];
  const { sheets } = await readNight(archive, loadPlanner(), nightAsked(query));
  const found = sheets.find(
    ({ sheet }) => sheet.board === board && sheet.log === log && sheet.boot === boot && sheet.seq === seq,
  );
  if (found === undefined)
    throw new NoSuchSheetError('the archive has no such sheet any more: open its night again');
  return found;
}

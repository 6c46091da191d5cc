import type {
  ArchiveReader,
  RecordFilter,
  SheetNote,
  SheetNotes,
  SheetPlace,
  SheetRemark,
} from '../archive/archive.js';

/** What the archive knows of single sheets beside their records; of those of one night, or of all. */
export async function sheetNotes(
  archive: ArchiveReader,
  filter: Pick<RecordFilter, 'night'> = {},
): Promise<SheetNotes> {
  const notes = new Map<string, SheetNote>();
  const add = (place: SheetPlace, note: (before: SheetNote) => SheetNote) =>
    notes.set(keyOfSheet(place), note(notes.get(keyOfSheet(place)) ?? {}));
  for (const { sheet, rating, words, writtenMs } of await archive.remarks())
    if (sheet !== null)
      add(sheet, (note) => ({ ...note, remarks: [...(note.remarks ?? []), { rating, words, writtenMs }] }));
  for (const sheet of await archive.sheetsEndedByPower(filter))
    add(sheet, (note) => ({ ...note, endedByPower: true }));
  return { of: (place) => notes.get(keyOfSheet(place)) };
}

/** Tells a sheet from all others: the place of the record that begins it. */
export function keyOfSheet({ board, log, boot, seq }: SheetPlace): string {
  return `${log} ${boot} ${seq} ${board}`;
}

/** 'rated 4: sky a sixth less'. */
export function remarkWords({ rating, words }: Pick<SheetRemark, 'rating' | 'words'>): string {
  const rated = rating === null ? 'remark' : `rated ${rating}`;
  return words === '' ? rated : `${rated}: ${words}`;
}

/** What stands below a sheet, line by line. */
export function noteLines({ endedByPower, remarks = [] }: SheetNote): string[] {
  return [...(endedByPower ? ['the power went before it was finished'] : []), ...remarks.map(remarkWords)];
}

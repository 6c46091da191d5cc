import Database from 'libsql';

/** What each format added to the file, the last one first. */
const added: Readonly<Record<number, string>> = {
  10: 'DROP INDEX recipe_mark;',
  9: 'DROP TABLE paper_reading;',
  8: 'DROP TRIGGER sheet_added; DROP TRIGGER sheet_changed; DROP TRIGGER sheet_removed; DROP TABLE printed;',
  7: 'DROP TABLE board_name; DROP INDEX sheet_mark;',
  6: ['board', 'log', 'boot', 'seq'].map((column) => `ALTER TABLE remark DROP COLUMN ${column};`).join(' '),
  5: 'DROP TRIGGER record_added; DROP TRIGGER record_changed; DROP TRIGGER record_removed; DROP TABLE quarter; DROP TABLE dated_by_hand;',
};

/** Makes an archive of today one of an earlier format, with what that one could hold of it. */
export function takeBackToFormat(file: string, format: 4 | 5 | 6 | 7 | 8 | 9): void {
  const database = new Database(file);
  for (let from = 10; from > format; from--) database.exec(added[from]!);
  database.exec(`PRAGMA user_version = ${format}`);
  database.close();
}

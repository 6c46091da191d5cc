import LibsqlDatabase from 'libsql';

const tables = {
  record: 'board, log, boot, seq, uptime_ms, type, fields, at_ms',
  recipe_content: 'hash, body',
  recipe: 'name, version, board, content, how',
  remark: 'name, version, content, rating, words, board, log, boot, seq',
  dated_by_hand: 'board, log, boot, night',
  quarter: 'quarter, board, log, boot, records, sheets, exposures',
};

/** All that an archive has but when it was written, a line for each row; or what is wrong with the file. */
export function dumpArchive(file: string): string[] {
  const database = new LibsqlDatabase(file);
  try {
    const [sound] = database
      .prepare('SELECT integrity_check AS said FROM pragma_integrity_check(1)')
      .all() as {
      said: string;
    }[];
    if (sound?.said !== 'ok') return [`damaged: ${sound?.said}`];
    return Object.entries(tables).flatMap(([table, columns]) =>
      (
        database.prepare(`SELECT json_array(${columns}) AS row FROM ${table} ORDER BY 1`).all() as {
          row: string;
        }[]
      ).map(({ row }) => `${table} ${row}`),
    );
  } finally {
    database.close();
  }
}

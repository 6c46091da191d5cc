import type { Database } from 'libsql';

/**
 * Everything that `work` does to the database, or nothing. The package's own wrapper hides the reason when SQLite has
 * rolled back by itself, as it does when the disk is full.
 */
export function inTransaction<Result>(database: Database, work: () => Result): Result {
  database.exec('BEGIN IMMEDIATE');
  try {
    const result = work();
    database.exec('COMMIT');
    return result;
  } catch (error) {
    rollBack(database);
    throw error;
  }
}

function rollBack(database: Database): void {
  try {
    database.exec('ROLLBACK');
  } catch {
    // Nothing was open any more: rolled back already.
  }
}

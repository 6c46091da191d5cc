import Database from 'libsql';

const UNBOUNDED = 2 ** 32 - 2;
/** How many more pages the disk takes of a file that is being written; undefined while there is room. */
let pagesLeft: number | undefined;

const exec = Database.prototype.exec;
Database.prototype.exec = function (this: Database.Database, sql: string) {
  const result = exec.call(this, sql);
  if (sql === 'BEGIN IMMEDIATE') boundFile(this);
  return result;
};

/** The database itself comes to the end of the disk, at any page of what it writes. */
function boundFile(database: Database.Database): void {
  const { pages } = database.prepare('SELECT page_count AS pages FROM pragma_page_count').get() as {
    pages: number;
  };
  database.pragma(`max_page_count = ${pagesLeft === undefined ? UNBOUNDED : pages + pagesLeft}`);
}

/** Has `begin` write to an archive on a disk that takes no more than so many more pages. It must write before it awaits. */
export function onFullDisk<Result>(pages: number, begin: () => Result): Result {
  pagesLeft = pages;
  try {
    return begin();
  } finally {
    pagesLeft = undefined;
  }
}

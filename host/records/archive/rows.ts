/**
 * How columns are read. A damaged file may hold anything in any column, also where its table allows whole numbers
 * only, and the package ends the program when it is to hand out a text that is no UTF-8. So texts are read as bytes
 * and made texts here, and numbers are made whole by the database. Where rows are to come in the order of such a column,
 * it is named with its table's name: without, the database sorts what it has read by what was made of it.
 */

/** A text column, read as bytes. */
export function textColumn(column: string, as = column): string {
  return `CAST(${column} AS BLOB) AS ${as}`;
}

/** A whole number, read as such whatever stands there; null stays null. */
export function wholeColumn(column: string, as = column): string {
  return `CAST(${column} AS INTEGER) AS ${as}`;
}

const utf8 = new TextDecoder('utf-8', { fatal: true });

/** The text of these bytes; undefined where they are none. */
export function textOf(bytes: ArrayBuffer | Uint8Array | null): string | undefined {
  try {
    return bytes === null ? undefined : utf8.decode(bytes);
  } catch {
    return undefined;
  }
}

/** What these bytes say as JSON; undefined where they are none. */
export function jsonOf(bytes: ArrayBuffer | null): unknown {
  try {
    return bytes === null ? undefined : JSON.parse(utf8.decode(bytes));
  } catch {
    return undefined;
  }
}

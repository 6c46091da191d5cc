import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inTransaction } from '../../../host/records/archive/transaction.js';

let folder: string;
let database: Database.Database;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-transaction-'));
  database = new Database(join(folder, 'archive.sqlite'));
  database.exec(`PRAGMA foreign_keys = ON;
    CREATE TABLE sheet (number INTEGER PRIMARY KEY);
    CREATE TABLE pass (sheet INTEGER REFERENCES sheet DEFERRABLE INITIALLY DEFERRED);`);
});
afterAll(() => {
  database.close();
  rmSync(folder, { recursive: true });
});

const passes = () =>
  (database.prepare('SELECT count(*) AS count FROM pass').all() as { count: number }[])[0]!.count;

// A board is told to forget what was committed, so a commit that failed must never pass for one that did not.
describe('a transaction', () => {
  it('whose commit fails is told as failed and leaves nothing behind, and the next one goes on', () => {
    expect(() => inTransaction(database, () => database.exec('INSERT INTO pass VALUES (7)'))).toThrow(
      /FOREIGN KEY/,
    );
    expect(passes()).toBe(0);
    inTransaction(database, () => database.exec('INSERT INTO sheet VALUES (7); INSERT INTO pass VALUES (7)'));
    expect(passes()).toBe(1);
  });

  it('whose work fails leaves nothing behind', () => {
    const before = passes();
    expect(() =>
      inTransaction(database, () => {
        database.exec('INSERT INTO pass VALUES (7)');
        throw new Error('half done');
      }),
    ).toThrow('half done');
    expect(passes()).toBe(before);
    expect(inTransaction(database, () => 'next')).toBe('next');
  });
});

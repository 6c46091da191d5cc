import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readingArchive } from '../../../host/desk/server/archive-at-desk.js';
import { listNights } from '../../../host/desk/server/nights/list-nights.js';
import { growArchive, NIGHT_ENTRIES } from './growth/grown-archive.js';
import { bestMs, type Section } from './page.js';

const NIGHTS = [100, 1000];
const ROUNDS = 9;
const RECIPES = 60;
const GOAL_MS = 300;

/** How long the desk takes to list the nights of an archive, from the file to the text that goes to the page. */
export async function nightsListed(): Promise<Section> {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-bench-'));
  try {
    const rows: string[][] = [];
    for (const nights of NIGHTS) {
      const file = join(folder, `${nights}.sqlite`);
      await growArchive(file, { entries: nights * NIGHT_ENTRIES, recipes: RECIPES });
      const list = async () => JSON.stringify(await readingArchive(file, listNights));
      const [ms] = await bestMs(ROUNDS, list);
      rows.push([`${nights}`, `${nights * NIGHT_ENTRIES}`, ms!.toFixed(0)]);
    }
    return {
      title: "The desk's list of nights",
      about: `Opened, read and written as the page gets it; the quickest of ${ROUNDS}. Goal: 1000 nights in under ${GOAL_MS} ms.`,
      columns: ['nights', 'entries', 'ms'],
      rows,
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

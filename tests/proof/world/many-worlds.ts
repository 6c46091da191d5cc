import { expect } from 'vitest';
import { Tally } from './tally.js';
import { replayCommand, runWorld } from './world.js';
import { ArchiveShelf } from './world-archive.js';
import type { BoardKind } from './world-board.js';

/** Half of the worlds of a test run, so that it ends within minutes; CI asks for 10,000 and `npm run soak` for more. */
export const WORLDS_EACH = Number(process.env.TREADLE_WORLDS ?? 600) / 2;
export const LIMIT_MS = 900_000;
const MOST_SHOWN = 5;

/** Runs worlds from `firstSeed` on and expects nothing to be wrong in any; a failing one tells how to see it again. */
export async function expectGoodWorlds(firstSeed: number, count: number, kind: BoardKind): Promise<void> {
  const archives = new ArchiveShelf();
  const tally = new Tally();
  try {
    for (let seed = firstSeed; seed < firstSeed + count && tally.violations.length < MOST_SHOWN; seed++)
      tally.add(await runWorld(seed, archives, kind));
  } finally {
    await archives.close();
  }
  console.log(String(tally));
  const words = tally.violations.map(
    ({ seed, words }) => `${replayCommand(seed, kind.name)}\n  ${words.join('\n  ')}`,
  );
  expect(words.join('\n'), 'worlds with violations').toBe('');
  expect(tally.entries, 'entries that the worlds made').toBeGreaterThan(count);
}

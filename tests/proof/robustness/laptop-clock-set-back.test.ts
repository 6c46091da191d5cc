import { describe, expect, it } from 'vitest';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import type { LogEntry } from '../../../host/records/log/log-entry.js';
import { recipe } from '../../host/board/link/laptop.js';
import { listOf } from '../../setup/list-of.js';
import { ownFolder } from './archive-folder.js';
import { EveningWithAClock } from './evening-with-a-clock.js';

const EVENING_MS = Date.UTC(2027, 2, 5, 20);
const HOUR_MS = 3_600_000;
const YEARS_MS = 20 * 365 * 24 * HOUR_MS;

const fileOf = ownFolder();

/** What the times of an evening must be: each entry as long after the one before as the board's own clock says. */
function expectOneClock(entries: readonly LogEntry[]): void {
  for (const [index, entry] of entries.entries()) {
    const before = entries[index - 1];
    if (before === undefined) continue;
    const betweenMs = Date.parse(entry.at!) - Date.parse(before.at!);
    expect(betweenMs, `from entry ${before.seq} to ${entry.seq}`).toBe(entry.uptimeMs - before.uptimeMs);
  }
}

describe("a laptop whose clock is set back in the middle of the evening leaves the log's times in order", () => {
  it.each([
    ['by an hour', HOUR_MS],
    ['to long before there were boards', YEARS_MS],
  ])('%s', async (name, backMs) => {
    const evening = new EveningWithAClock(fileOf(`${name}.sqlite`), EVENING_MS);
    await evening.collect();
    evening.light();
    evening.setClock(-backMs);
    await evening.collect();
    evening.light();
    await evening.collect();
    const entries = await evening.entries();
    expect(entries.filter(({ kind }) => kind === 'focus')).toHaveLength(2);
    expect(new Set(entries.map(({ night }) => night))).toEqual(new Set(['2027-03-05']));
    expectOneClock(entries);
  });

  it('also when it happens while the log is being pulled', async () => {
    const evening = new EveningWithAClock(fileOf('meanwhile.sqlite'), EVENING_MS);
    evening.light();
    const report = await evening.collect(() => evening.setClock(-YEARS_MS));
    expect(report.holes).toEqual([]);
    await evening.collect();
    evening.light();
    await evening.collect();
    const entries = await evening.entries();
    expect(entries.filter(({ kind }) => kind === 'focus')).toHaveLength(2);
    expectOneClock(entries);
  });

  it('and a clock that is put right by going forward is believed from then on', async () => {
    const evening = new EveningWithAClock(fileOf('forward.sqlite'), EVENING_MS - HOUR_MS);
    await evening.collect();
    evening.light();
    evening.setClock(HOUR_MS);
    await evening.collect();
    evening.light();
    await evening.collect();
    const [early, late] = (await evening.entries()).filter(({ kind }) => kind === 'focus');
    const aheadMs = Date.parse(late!.at!) - Date.parse(early!.at!) - (late!.uptimeMs - early!.uptimeMs);
    expect(aheadMs).toBe(HOUR_MS);
  });
});

describe('an archive that is written to by a clock set back', () => {
  it('has every record once, and the recipes in the order in which they were pushed', async () => {
    const file = fileOf('order.sqlite');
    const evening = new EveningWithAClock(file, EVENING_MS);
    for (let round = 1; round <= 4; round++) {
      evening.light();
      await evening.collect();
      await using archive = await openArchive(file, evening.clock);
      await archive.keepRecipe(recipe('Jetty', round), evening.board.id);
      evening.setClock(-HOUR_MS);
    }
    await using archive = await openArchive(file, evening.clock);
    const numbers = (await listOf(archive.records())).map(({ seq }) => seq);
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
    expect((await archive.recipes('jetty')).map(({ recipe: kept }) => kept.version)).toEqual([1, 2, 3, 4]);
  });
});

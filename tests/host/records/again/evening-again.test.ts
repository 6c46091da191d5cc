import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readRecipe } from '../../../../host/recipe/index.js';
import { loadPlanner } from '../../../../host/recipe/planner/index.js';
import type { Recipe } from '../../../../host/recipe/recipe.js';
import { type PrintedSheet, printedSheets } from '../../../../host/records/again/printed-sheet.js';
import { recipeAgain } from '../../../../host/records/again/recipe-again.js';
import { sheetsBegun } from '../../../../host/records/again/sheets-begun.js';
import type { Archive } from '../../../../host/records/archive/archive.js';
import { collectIntoArchive } from '../../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import {
  type ExposureEntry,
  isExposure,
  type LogEntry,
  logEntries,
} from '../../../../host/records/log/log-entry.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { ownFolder } from '../../../proof/robustness/archive-folder.js';
import { listOf } from '../../../setup/list-of.js';
import { Random } from '../../../setup/random.js';
import { type Disturbances, type LitExposure, litExposures, Printer } from './printer.js';

const SHEETS = 40;
const HOUR_US = 3_600_000_000;
/** Half a per cent of what the area gets. */
const SAME_SHARE = 0.005;

const boathouse = readRecipe(readFileSync(`${projectRoot}/host/evening/boathouse.json`));
const jetty: Recipe = {
  ...boathouse,
  name: 'jetty',
  title: 'Jetty',
  baseMs: 9400,
  dryDown10: 80,
  passes: [
    {
      kind: 'base',
      label: 'base',
      filter: '2',
      stops120: 0,
      dodges: [
        { label: 'reeds', stops120: -40 },
        { label: 'boat', stops120: -30 },
      ],
    },
    { kind: 'burn', label: 'sky', filter: '00', stops120: 60, dodges: [] },
    { kind: 'burn', label: 'water', filter: '2', stops120: 100, dodges: [] },
  ],
};

async function collected(printer: Printer, archive: Archive): Promise<LogEntry[]> {
  const board = await printer.pair.open();
  await printer.pair.over(collectIntoArchive(archive, board));
  const { id } = board;
  await board.close();
  return listOf(logEntries(archive.records({ board: id })));
}

/** What the lamp gave for a sheet, in whichever run of the board. */
function litFor(lit: readonly LitExposure[], { lights }: PrintedSheet): LitExposure[] {
  return lit.filter(({ entry }) => lights.some(({ boot, seq }) => boot === entry.boot && seq === entry.seq));
}

/** What each area of a sheet got: of a pass of the base its light, of a burn that and the base's. */
function areas(own: readonly LitExposure[]): Map<string, number> {
  const sum = (kind: string, label?: string) =>
    own
      .filter(({ entry }) => entry.kind === kind && (label === undefined || entry.label === label))
      .reduce((total, { lightMs }) => total + lightMs, 0);
  const base = sum('base');
  return new Map(
    own.map(({ entry: { kind, label } }) => [
      `${kind} ${label}`,
      kind === 'base' ? sum('base', label) : base + sum('burn', label),
    ]),
  );
}

function disturbancesFrom(random: Random): Disturbances {
  const sometimes = (share: number, most: number) =>
    random.below(100) < share ? 3 + random.below(most * 10) / 10 : undefined;
  return {
    powerFailsAfterS: sometimes(30, 40),
    givesUpAfterS: sometimes(25, 30),
    pausesAfterS: sometimes(30, 30),
    pushes: random.below(6),
    clicks: random.below(7) - 3,
  };
}

// The log was all that was left of a good print: what it got could not be made again but by reading and reckoning.
describe.each([
  ['an evening', 20_270_305],
  ['an evening', 7],
  ['nights', 20_270_306],
  ['nights', 8],
])('%s of 40 sheets with power cuts, seed %i,', (when, seed) => {
  const fileOf = ownFolder();

  it('loses nothing unread, and every print is made again within half a per cent', async () => {
    const random = new Random(seed);
    const printer = new Printer();
    await printer.setUp([boathouse, jetty]);
    await using archive = await openArchive(fileOf('evening.sqlite'));
    for (const recipe of [boathouse, jetty]) await archive.keepRecipe(recipe, printer.pair.board.id);
    for (let sheet = 0; sheet < SHEETS; sheet++) {
      if (when === 'nights' && random.below(3) === 0) printer.switchOffAndOn(7 * HOUR_US);
      // Left as it was turned, or taken from the shelf anew.
      if (when === 'nights' && random.below(2) === 0) await printer.printInUse(disturbancesFrom(random));
      else await printer.print(random.below(2) === 0 ? 'boathouse' : 'jetty', disturbancesFrom(random));
    }

    const entries = await collected(printer, archive);
    const lit = litExposures(entries.filter(isExposure), printer.pulses(), printer.powerWentUs);
    const sheets = await printedSheets(entries);
    expect(sheets.length).toBeGreaterThan(SHEETS * 0.7);
    const nights = await listOf(archive.nights());
    expect(nights.length).toBeGreaterThan(when === 'nights' ? 3 : 0);
    const byNights = nights.map(({ night, undated }) =>
      sheetsBegun(archive, logEntries(archive.records(night === null ? { run: undated[0]! } : { night }))),
    );
    expect((await Promise.all(byNights)).flat().sort(byPlace)).toEqual(sheets);
    expect(printer.powerWentUs.length).toBeGreaterThan(3);

    const kept = await archive.recipes();
    const made = sheets
      .filter(isTold)
      .map((sheet) => ({ sheet, ...recipeAgain(loadPlanner(), sheet, kept) }));
    expect(made.length).toBeGreaterThan(SHEETS / 2);
    expect(made.filter(({ differences }) => differences.length > 0).length).toBeGreaterThan(5);

    expect(made.filter(({ sheet }) => sheet.lights.some(isStopped)).length).toBeGreaterThan(0);

    const second = new Printer();
    const named = made.map(({ recipe }, at) => ({ ...recipe, name: `again-${at}` }));
    await second.setUp([]);
    for (const recipe of named) {
      await second.pair.with((board) => board.sendRecipe(recipe));
      await second.print(recipe.name);
      await second.pair.with((board) => board.removeRecipe(recipe.name));
    }
    await using archiveOfSecond = await openArchive(fileOf('second.sqlite'));
    const entriesAgain = await collected(second, archiveOfSecond);
    const litAgain = litExposures(entriesAgain.filter(isExposure), second.pulses(), []);
    const sheetsAgain = await printedSheets(entriesAgain);
    expect(sheetsAgain.map(({ recipe }) => recipe)).toEqual(named.map(({ name }) => name));
    for (const [at, { sheet }] of made.entries()) {
      const then = areas(litFor(lit, sheet));
      const now = areas(litFor(litAgain, sheetsAgain[at]!));
      expect([...now.keys()].sort(), `sheet ${at}`).toEqual(
        [...then].flatMap(([area, lightMs]) => (lightMs > 0 ? [area] : [])).sort(),
      );
      if (isGivenAtOnce(sheet)) {
        const pulsesThen = pulsesOf(litFor(lit, sheet));
        const pulsesNow = pulsesOf(litFor(litAgain, sheetsAgain[at]!));
        expect(pulsesNow.length, `pulses of sheet ${at}`).toBe(pulsesThen.length);
        for (const [nth, onUs] of pulsesNow.entries())
          expect(Math.abs(onUs / pulsesThen[nth]! - 1), `pulse ${nth} of sheet ${at}`).toBeLessThan(
            SAME_SHARE,
          );
      }
      for (const [area, lightMs] of now)
        expect(Math.abs(lightMs / then.get(area)! - 1), `${area} of sheet ${at}`).toBeLessThan(SAME_SHARE);
    }
  });
});

function byPlace(one: PrintedSheet, other: PrintedSheet): number {
  return one.log - other.log || one.seq - other.seq;
}

/** Each time that the lamp was on for a sheet, in its order: before, in and after each dodge, and each burn. */
function pulsesOf(own: readonly LitExposure[]): number[] {
  return own.flatMap(({ pulses }) => pulses.map(({ onUs }) => onUs));
}

/** Each pass whole, and no more than once. */
function isGivenAtOnce({ lights }: PrintedSheet): boolean {
  const passes = new Set(lights.map(({ pass }) => pass));
  return (
    passes.size === lights.length &&
    lights.every((light) => light.pauses === 0 && light.outcome === 'complete')
  );
}

function isStopped({ outcome }: ExposureEntry): boolean {
  return outcome === 'stopped';
}

/** Light that the power cut ended is in no log. */
function isTold({ job, lights }: PrintedSheet): boolean {
  return (
    job === 'recipe' &&
    lights.every(({ outcome }) => outcome !== 'interrupted') &&
    lights.some(({ doseMs }) => doseMs > 0)
  );
}

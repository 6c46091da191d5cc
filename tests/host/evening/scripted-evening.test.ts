import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { openBoard } from '../../../host/board/link/open-board.js';
import type { BoardHome } from '../../../host/board/sim/board-home.js';
import { offerPort } from '../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { writeEveningPictures } from '../../../host/evening/pictures.js';
import {
  demoLamp,
  demoStrip,
  type EveningAccount,
  playEvening,
} from '../../../host/evening/scripted-evening.js';
import { Stage } from '../../../host/evening/stage.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { stripInLog } from '../../../host/records/again/strip-in-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { isExposure } from '../../../host/records/log/log-entry.js';
import { usualBaths } from '../../../shared-protocol/usual-baths.js';
import { EmulatedBoard } from '../../firmware/board/rig/emulated-board.js';
import { buildImage } from '../../firmware/board/rig/image.js';
import { boardTestsRun } from '../../firmware/board/rig/requirements.js';
import { treadleHere } from '../cli/in-this-process.js';

/** A relay may be so much off, in milliseconds: nothing on the simulated board, two microseconds on the chip. */
const RELAY_MS = 0.002;

const homes: readonly [string, () => BoardHome, boolean][] = [
  ['the simulated board', () => new SimulatedBoard(), true],
  ['the emulated chip', () => new EmulatedBoard({ image: buildImage() }), boardTestsRun],
];

describe.each(homes.filter(([, , runs]) => runs))(
  'an evening with %s over a real pseudo-terminal and the real serial port',
  (name, makeHome) => {
    const folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
    let account: EveningAccount;
    let written: Awaited<ReturnType<typeof writeEveningPictures>>;
    beforeAll(async () => {
      // Nights go from noon to noon: begun a quarter of an hour before noon, strip and print would be of two.
      vi.useFakeTimers({ toFake: ['Date'], now: new Date(2027, 2, 5, 20) });
      const home = makeHome();
      const port = await offerPort(home.plug());
      const stage = new Stage(home);
      const board = await stage.during(openBoard(port.path));
      const archive = await openArchive(join(folder, 'archive.sqlite'));
      account = await playEvening(stage, board, archive);
      await board.close();
      await archive.close();
      port.close();
      home.close();
      written = await writeEveningPictures(account, folder);
    });
    afterAll(() => {
      vi.useRealTimers();
      rmSync(folder, { recursive: true });
    });

    const exposures = () => account.entries.filter(isExposure);

    it('lights nothing between focusing and the confirmed lens', () => {
      expect(account.before.map(({ lampMs }) => lampMs.length)).toEqual([1, 0, 0, 0]);
    });

    it('gives the strip as it is planned, the lamp’s lag made up for', () => {
      const plan = loadPlanner().planStrip({
        ...demoStrip,
        step: { stops120: demoStrip.stepStops120 },
        lamp: demoLamp,
      });
      const given = account.strip.steps.flatMap(({ lampMs }) => lampMs);
      expect(given).toHaveLength(plan.exposures.length);
      for (const [at, { onMs }] of plan.exposures.entries())
        expect(Math.abs(given[at]! - onMs)).toBeLessThanOrEqual(RELAY_MS);
    });

    it('leaves a strip in the log that a scan can be read by: what each patch had, and no time chosen', async () => {
      const plan = loadPlanner().planStrip({ ...demoStrip, step: { stops120: demoStrip.stepStops120 } });
      await using archive = await readArchive(join(folder, 'archive.sqlite'));
      const strip = await stripInLog(archive, 'last');
      expect(strip).toMatchObject({ sheet: 1, chosenMs: undefined });
      expect(strip.dosesMs).toEqual(plan.patches.map(({ doseMs }) => doseMs));
      await expect(stripInLog(archive, '2')).rejects.toThrow('sheet 2 was a print, not a test strip');
    });

    it('logs every pass as complete, with the dose that the recipe asks for and the one pause', () => {
      const plan = loadPlanner().planRecipe(account.recipe, { lamp: demoLamp });
      const passes = exposures().filter(({ kind }) => kind === 'base' || kind === 'burn');
      expect(passes.map(({ label, plannedMs }) => [label, plannedMs])).toEqual(
        plan.passes.map(({ label, doseMs }) => [label, doseMs]),
      );
      for (const { plannedMs, doseMs, outcome } of passes) {
        expect(outcome).toBe('complete');
        expect(Math.abs(doseMs - plannedMs)).toBeLessThanOrEqual(1);
      }
      expect(passes.map(({ pauses }) => pauses)).toEqual([1, 0, 0]);
    });

    it('takes strip and print through the usual baths, each for its time, and says how long they had been out', () => {
      const used = account.entries.filter((entry) => entry.kind === 'bath-used');
      expect(used.map(({ details }) => [details.label, details.plannedMs, details.givenMs])).toEqual(
        [...usualBaths, ...usualBaths].map(({ label, resinCoatedSeconds: s }) => [label, s * 1000, s * 1000]),
      );
      const [strip, , , , print, ...others] = used.map(({ details }) => details.outMs);
      const givenMs = (kinds: string[]) =>
        exposures().reduce((sum, { kind, doseMs }) => sum + (kinds.includes(kind) ? doseMs : 0), 0);
      expect(strip).toBeGreaterThan(givenMs(['strip']));
      expect(print).toBeGreaterThan(givenMs(['base', 'burn']));
      expect(others).toEqual([0, 0, 0]);
    });

    it('pulls every record once, and tells when each was', () => {
      expect(account.collected).toMatchObject({ known: 0, holes: [] });
      expect(account.entries.every(({ at }) => at !== null)).toBe(true);
      expect(new Set(account.entries.map(({ seq }) => seq)).size).toBe(account.entries.length);
    });

    it('becomes three pictures, of which the one with the lens wide open is the darkest', () => {
      const { pictures } = written;
      const greys = pictures.map(
        ({ picture: { pixels } }) => pixels.reduce((sum, grey) => sum + grey, 0) / pixels.length,
      );
      expect(pictures.every(({ path }) => existsSync(path))).toBe(true);
      expect(greys[1]).toBeLessThan(40);
      expect(greys[0]).toBeGreaterThan(120);
      expect(greys[2]).toBeGreaterThan(80);
    });

    // Both boards gave the same light, and it costs 5 s.
    if (name !== homes[0]![0]) return;
    it('is read back from scans of strip and negative: the base that is right there', async () => {
      const { scans } = written;
      const read = await treadleHere([
        ...['read', scans.strip, '--negative', scans.negative],
        ...['--archive', join(folder, 'archive.sqlite'), '--json'],
      ]);
      expect(read).toMatchObject({ code: 0 });
      const { baseMs, lowMs, highMs, flareShare } = JSON.parse(read.out);
      expect(lowMs).toBeLessThan(account.recipe.baseMs);
      expect(highMs).toBeGreaterThan(account.recipe.baseMs);
      expect(Math.abs(Math.log2(baseMs / account.recipe.baseMs))).toBeLessThan(0.05);
      // No light is less than none, however wide the interval about a little of it.
      expect(flareShare.low).toBe(0);
    });
  },
);

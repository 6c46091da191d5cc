import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type DeskServer, nightsRoom, openDeskServer, stripRoom } from '../../../host/desk/index.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { Random } from '../../setup/random.js';
import { madeStrip } from '../darkroom/reading/made-strip.js';
import { printIntoArchive } from '../records/again/print-into-archive.js';
import { findBarriers, launchChromium, openWatched, pageTestsRun } from './chromium.js';
import { lookAt } from './look-at.js';

const demo = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
const folder = mkdtempSync(join(tmpdir(), 'treadle-strip-scan-'));
const archive = join(folder, 'archive.sqlite');
const scan = join(folder, 'strip.png');
const blank = join(folder, 'blank.png');
// Half-stop steps from the seed, so that a board can have given it.
const strip = madeStrip(new Random(7), { device: 'flatbed' });
const [firstMs] = strip.dosesMs;

afterAll(() => rmSync(folder, { recursive: true }));

describe.runIf(pageTestsRun)('on the desk, the scan of a strip', () => {
  let browser: Browser;
  let server: DeskServer;
  beforeAll(async () => {
    const { width, height, codes } = strip;
    const raw = { raw: { width, height, channels: 1 } } as const;
    await sharp(codes, raw).toColourspace('srgb').png().toFile(scan);
    await sharp(codes.fill(240).slice(), raw).toColourspace('srgb').png().toFile(blank);
    await printIntoArchive(archive, demo, (printer) =>
      printer.exposeStrip({
        ...{ firstMs: firstMs!, stepStops120: 60, stepMs: 0, patches: strip.dosesMs.length },
        ...{ cover: 'cumulative', filter: '' },
      }),
    );
    [browser, server] = await Promise.all([
      launchChromium(),
      openDeskServer([nightsRoom(archive), stripRoom(archive)]),
    ]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });

  it('laid on its sheet gives the base, which goes to the print on the desk; edges are put right by keys', async () => {
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The nights' }).click();
    await page.getByRole('button', { name: /5 March 2027/ }).click();
    const sheet = page.getByRole('region', { name: /^Scan of sheet/ });
    await sheet.locator('input[type=file]').setInputFiles(blank);
    await sheet.getByText(/^Not read: .*crop the scan/).waitFor();
    await sheet.locator('input[type=file]').setInputFiles(scan);
    const take = sheet.getByRole('button', { name: /^Make .* s the base of the print/ });
    await take.waitFor();
    await lookAt(page, 'strip-scan');
    const baseMs = 1000 * Number.parseFloat((await take.textContent())!.slice(5));
    expect(Math.abs(Math.log2(baseMs / strip.baseMs))).toBeLessThan(0.1);
    expect(await findBarriers(page)).toEqual([]);
    const edge = sheet.getByRole('slider', { name: 'edge 3' });
    const before = Number(await edge.getAttribute('aria-valuenow'));
    await edge.press('ArrowRight');
    const after = Number(await edge.getAttribute('aria-valuenow'));
    expect(after).toBe(before + Math.round(strip.width / 400));
    const again = sheet.getByRole('button', { name: 'Read it by these edges' });
    await again.click();
    await expect.poll(() => again.isDisabled()).toBe(true);
    expect(Number(await edge.getAttribute('aria-valuenow'))).toBe(after);
    await take.click();
    await page.getByText(/ s is the base of '.*' on the desk\./).waitFor();
    await finish();
  });
});

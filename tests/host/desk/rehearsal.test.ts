import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { luxOf, previewPrint, previewStrip } from '../../../host/darkroom/picture/preview.js';
import { openDeskServer, writeStaticDesk } from '../../../host/desk/index.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { browserAndServer } from './browser-and-server.js';
import { findBarriers, openWatched, pageTestsRun, type WatchedPage } from './chromium.js';
import { firstColourOf } from './first-colour.js';
import { Keys, readGolden } from './golden-keys.js';
import { lookAt } from './look-at.js';

const goldenFreshBoard = join(projectRoot, 'tests/firmware/core/evening/golden-fresh-board.txt');
/** How long what was begun is waited for, where the bench waits longer than for a look. */
const secondsAfter: Readonly<Record<string, number>> = { 'tap: light': 12 };

async function rowsOf(page: Page): Promise<string[]> {
  return (await page.locator('.display .row').allTextContents()).map((row) => row.trimEnd());
}

/** The sheet's pixels, in the one colour that there is. */
function sheetOf(page: Page, where: 'on the easel' | 'in the tray' = 'on the easel'): Promise<Buffer> {
  return firstColourOf(page.getByRole('img', { name: where }));
}

const recipe = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json'), 'utf8'));
const setup = { negative: boathouseNegative(320), paper: new Paper(commonPaper) };

function wholePrint(): Uint8Array {
  return previewPrint(recipe, loadPlanner().planRecipe(recipe), setup).picture.pixels;
}

/** The strip that an evening begins with, after so many of its exposures. */
function stripAfter(exposures: number): Uint8Array {
  const planner = loadPlanner();
  const plan = planner.planStrip(planner.usualStrip());
  const lux = luxOf(recipe, planner.planRecipe(recipe), setup);
  const givenMs = plan.exposures.map(({ doseMs }, at) => (at < exposures ? doseMs : 0));
  return previewStrip(plan, 'cumulative', '', lux, setup, givenMs).pixels;
}

function largestDifference(given: Buffer, expected: Uint8Array): number {
  expect(given).toHaveLength(expected.length);
  return given.reduce((most, red, at) => Math.max(most, Math.abs(red - expected[at]!)), 0);
}

/** The page with its board up, from the box or with the boathouse on it. */
async function openRehearsal(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.getByRole('button', { name: 'Rehearse an evening' }).click();
}

/** The page at a moment from which on its time goes only when told. */
async function openStill(browser: Browser, url: string): Promise<WatchedPage> {
  const watched = await openWatched(browser);
  await watched.page.clock.install({ time: 0 });
  await openRehearsal(watched.page, url);
  await watched.page.clock.pauseAt(60_000);
  return watched;
}

describe.runIf(pageTestsRun)('in a browser, the rehearsal', () => {
  const desk = browserAndServer();

  it('shows the screens of the evening on a fresh board, row by row, by pedal and knob on the keys', async () => {
    const { page, finish } = await openStill(desk.browser, desk.server.url);
    await page.getByRole('combobox', { name: 'board' }).selectOption('fresh');
    await page.keyboard.press('Escape');
    const keys = new Keys(page);
    const [first, ...others] = readGolden(readFileSync(goldenFreshBoard, 'utf8'));
    expect(await rowsOf(page)).toEqual(first!.rows);
    for (const { act, rows } of others) {
      await keys.act(act, secondsAfter[act]);
      expect({ act, rows: await rowsOf(page) }).toEqual({ act, rows });
    }
    await finish();
  });

  it('is worked by the keys at once where it was opened by them', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await page.clock.install({ time: 0 });
    await page.goto(desk.server.url);
    await page.getByRole('button', { name: 'Rehearse an evening' }).press('Enter');
    await page.clock.pauseAt(60_000);
    await new Keys(page).act('tap: the lens');
    expect((await rowsOf(page))[0]).toBe('Stopped down? Hold');
    await finish();
  });

  // The picture of a whole recipe as it was planned: tests/host/darkroom has that against sources.
  it('the sheet grows dark as the recipe would print it, within a grey level, once all its light was given', async () => {
    const { page, finish } = await openStill(desk.browser, desk.server.url);
    const keys = new Keys(page);
    expect(new Set(await sheetOf(page)).size).toBe(1);
    for (const act of ['hold: focus', 'tap: light out', 'hold: the lens is stopped down'])
      await keys.act(act);
    for (let taps = 0; taps < 12 && !/^Tap (next|again)/.test((await rowsOf(page))[0]!); taps++) {
      await keys.act('tap: on');
      await keys.leap(10);
    }
    const expected = wholePrint();
    expect(largestDifference(await sheetOf(page), expected)).toBeLessThanOrEqual(1);
    await lookAt(page, 'rehearsal 1, all light given');

    // White as a latent image is, it comes up in the developer, whose time the core has: 90 s in the usual row.
    for (const act of ['hold: rest', 'turn -3', 'tap: to the baths', 'tap: into the developer'])
      await keys.act(act);
    expect(new Set(await sheetOf(page, 'in the tray')).size).toBe(1);
    expect(new Set(await sheetOf(page)).size).toBe(1);
    await keys.leap(30);
    const comingUp = await sheetOf(page, 'in the tray');
    expect(comingUp.every((red, at) => red >= expected[at]!)).toBe(true);
    expect(largestDifference(comingUp, expected)).toBeGreaterThan(10);
    expect(new Set(comingUp).size).toBeGreaterThan(10);
    await lookAt(page, 'rehearsal 2, coming up');
    await keys.leap(60);
    expect((await rowsOf(page))[2]).toBe('stop');
    expect(largestDifference(await sheetOf(page, 'in the tray'), expected)).toBeLessThanOrEqual(1);
    await finish();
  });

  it('a strip grows dark patch by patch under its card, and what was lifted out too soon stays light', async () => {
    const { page, finish } = await openStill(desk.browser, desk.server.url);
    const keys = new Keys(page);
    for (const act of ['turn -1', 'hold: focus', 'tap: light out', 'hold: the lens is stopped down'])
      await keys.act(act);
    await keys.act('tap: a strip');
    for (let given = 1; given <= 3; given++) {
      await keys.act('tap: patch');
      await keys.leap(6);
      if (given > 1) expect(await page.getByText('hands or card hold the light back').count()).toBe(1);
    }
    await lookAt(page, 'rehearsal 3, a strip');
    await keys.act('hold: end');
    const expected = stripAfter(3);
    expect(largestDifference(await sheetOf(page), expected)).toBeLessThanOrEqual(1);
    for (const act of [
      'turn -3',
      'tap: to the baths',
      'tap: into the developer',
      '30 s later',
      'tap: lifted out',
    ])
      await keys.act(act);
    const lifted = await sheetOf(page, 'in the tray');
    expect(largestDifference(lifted, expected)).toBeGreaterThan(10);
    await keys.leap(60);
    expect(await sheetOf(page, 'in the tray')).toEqual(lifted);
    await finish();
  });

  it('the mouse does what the keys do: its wheel turns the knob, its button presses until it is let go', async () => {
    const { page, finish } = await openStill(desk.browser, desk.server.url);
    // A wheel's turn comes when the browser has time for it.
    const rowsSoon = async () => {
      await page.clock.runFor(300);
      return rowsOf(page);
    };
    const before = await rowsOf(page);
    await page.getByRole('region', { name: 'Display' }).hover();
    await page.mouse.wheel(0, -100);
    await expect.poll(rowsSoon).not.toEqual(before);
    await page.mouse.wheel(0, 100);
    await expect.poll(rowsSoon).toEqual(before);
    await page.getByRole('button', { name: 'Pedal' }).hover();
    await page.mouse.down();
    await page.clock.runFor(900);
    await page.getByText('The lamp is on').waitFor();
    await page.mouse.up();
    await finish();
  });

  // A key that comes up over another window is never told of: the pedal would be stuck.
  it('lets go of pedal and knob when another window gets the keys', async () => {
    const { page, finish } = await openStill(desk.browser, desk.server.url);
    await page.keyboard.down('Space');
    await page.clock.runFor(100);
    await page.evaluate(() => window.dispatchEvent(new Event('blur')));
    await page.clock.runFor(2000);
    await page.getByText('The lamp is off').waitFor();
    await finish();
  });

  it('takes a tap for a tap at every speed', async () => {
    const { page, finish } = await openStill(desk.browser, desk.server.url);
    await page.getByRole('combobox', { name: 'speed' }).selectOption('30');
    await page.keyboard.press('Escape');
    await new Keys(page).act('tap: the lens');
    await page.getByText('The lamp is off').waitFor();
    expect((await rowsOf(page))[0]).toBe('Stopped down? Hold');
    await finish();
  });

  it('has nothing that axe finds wrong, at a narrow and at a wide window', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openRehearsal(page, desk.server.url);
    for (const width of [400, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      expect(await findBarriers(page)).toEqual([]);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(overflow).toBeLessThanOrEqual(0);
    }
    await finish();
  });

  it('knows the program that sent it, by the token in its address', async () => {
    const other = await openDeskServer();
    const { page, finish } = await openWatched(desk.browser);
    await openRehearsal(page, other.url);
    await page.getByText(/^Treadle \d+\.\d+\.\d+$/).waitFor();
    await finish();
    await other.close();
  });

  it('works from a folder, without a server, and has the scan that lies on the desk in the enlarger', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'treadle-static-'));
    await writeStaticDesk(folder, true);
    const scan = join(folder, 'upright.png');
    await sharp({ create: { width: 20, height: 30, channels: 3, background: '#888888' } }).toFile(scan);
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(pathToFileURL(join(folder, 'index.html')).href);
    await page.locator('.scan input[type="file"]').setInputFiles(scan);
    await page.getByText('Negative: upright.png').waitFor();
    await page.getByRole('button', { name: 'Rehearse an evening' }).click();
    await page.locator('.easel canvas[width="20"][height="30"]').waitFor();
    // A choice made by the mouse leaves the space bar to the foot.
    await page.getByRole('button', { name: 'Begin again' }).click();
    await page.keyboard.down('Space');
    await page.getByText('The lamp is on').waitFor();
    await page.keyboard.up('Space');
    await finish();
    rmSync(folder, { recursive: true });
  });
});

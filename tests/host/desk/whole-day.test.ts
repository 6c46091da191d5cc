import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { offerPort } from '../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import {
  boardForDesk,
  boardRoom,
  KeptScan,
  nightsRoom,
  openDeskServer,
  printsRoom,
  scanRoom,
} from '../../../host/desk/index.js';
import { findBaseByStrip, printByHand } from './at-the-board.js';
import { launchChromium, openWatched, pageTestsRun } from './chromium.js';
import { lookAt } from './look-at.js';

async function fillIn(page: Page, role: 'textbox' | 'spinbutton', name: string, text: string): Promise<void> {
  const field = page.getByRole(role, { name, exact: true });
  await field.fill(text);
  await field.press('Enter');
}

async function drawByMouse(page: Page): Promise<void> {
  await page.getByRole('combobox', { name: 'area' }).selectOption('ellipse');
  await page.getByRole('button', { name: 'New dodge' }).click();
  const sheet = (await page.getByRole('group', { name: 'Areas on the sheet' }).boundingBox())!;
  const at = (x: number, y: number) => [sheet.x + x * sheet.width, sheet.y + y * sheet.height] as const;
  await page.mouse.move(...at(0.33, 0.45));
  await page.mouse.down();
  await page.mouse.move(...at(0.43, 0.63), { steps: 3 });
  await page.mouse.up();
}

async function drawByKeyboard(page: Page): Promise<void> {
  const shape = page.getByRole('combobox', { name: 'area' });
  await shape.focus();
  await page.keyboard.type('r');
  expect(await shape.inputValue()).toBe('rectangle');
  for (let tabs = 0; tabs < 2; tabs++) await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  const areas = page.getByRole('group', { name: 'Areas on the sheet' });
  const burn = areas.getByRole('button', { name: /^burn/ });
  while (!(await burn.evaluate((area) => area === document.activeElement))) await page.keyboard.press('Tab');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('+');
}

describe.runIf(pageTestsRun && process.platform !== 'win32')('in a browser, a day at the desk', () => {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-day-'));
  let browser: Browser;
  beforeAll(async () => {
    // Sent a minute before noon, the print would be of the next night, and the list have two.
    vi.useFakeTimers({ toFake: ['Date'], now: new Date(2027, 2, 5, 20) });
    browser = await launchChromium();
  });
  afterAll(async () => {
    vi.useRealTimers();
    await browser?.close();
    rmSync(folder, { recursive: true });
  });

  it('goes from a scan and an empty archive to a remark on the dry print and its map on paper', async () => {
    const { samples, width, height } = boathouseNegative(120);
    const scan = join(folder, 'scan.png');
    await sharp(Uint16Array.from(samples), { raw: { width, height, channels: 1 } })
      .png()
      .toFile(scan);
    const archive = join(folder, 'archive.sqlite');
    const simulated = new SimulatedBoard({ speed: 20 });
    const port = await offerPort(simulated.plug());
    const desk = boardForDesk(port.path);
    const server = await openDeskServer([
      scanRoom(new KeptScan(archive)),
      printsRoom({ archive, folder }),
      nightsRoom(archive),
      boardRoom(desk, archive),
    ]);
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.locator('.picture canvas[data-drawn]').waitFor();
    await lookAt(page, 'the desk');
    await page.getByRole('button', { name: 'New', exact: true }).click();
    await fillIn(page, 'textbox', 'title', 'Boathouse at noon');
    await fillIn(page, 'textbox', 'negative', 'Roll 7, frame 12');
    await page.locator('input[type="file"]').first().setInputFiles(scan);
    await page.getByText('Negative: scan.png').waitFor();
    await lookAt(page, 'day 1, the scan');

    await drawByMouse(page);
    await drawByKeyboard(page);
    await lookAt(page, 'day 2, areas');

    const baseSeconds = findBaseByStrip(simulated);
    // Patches of 8 and 4 s, and half-way between them by stops: 2 s x 2^2.5. Common practice, no source.
    expect(baseSeconds).toBe('11.31');
    await fillIn(page, 'spinbutton', 'base', baseSeconds);
    await page.getByText('The strip that would find the base').click();
    await page.getByRole('cell', { name: '11.310 s' }).first().waitFor();
    await page.getByRole('button', { name: 'Send this strip' }).click();
    await page.getByText('The strip is on board').waitFor();
    await expect.poll(() => simulated.panel.join()).toContain('7 patches, 1/3 st');
    await lookAt(page, 'day 3, the base');

    await page.getByRole('button', { name: 'The board' }).click();
    await page.getByRole('heading', { name: `at ${port.path}` }).waitFor();
    await page.getByRole('button', { name: /^Send/ }).click();
    await page.getByText(/'boathouse-at-noon' version \d+ is on board/).waitFor();
    await lookAt(page, 'day 4, sent');

    printByHand(simulated, 'boathouse-at-noon');
    await lookAt(page, 'day 5, the evening');
    await page.getByRole('button', { name: 'Collect the log' }).click();
    // Two lines once came as one, with a mark between them that is no letter; now each is a line.
    await page
      .getByText(/new records? of board .*archive\.sqlite\.\nRecipes as the board has them/)
      .waitFor();
    await lookAt(page, 'day 6, collected');

    await page.getByRole('button', { name: 'The nights' }).click();
    await page.locator('.list li button').click();
    const sheet = page.getByRole('article').filter({ hasText: 'Boathouse at noon' });
    await sheet.getByText('burn area 2').waitFor();
    await sheet.locator('canvas[aria-busy="false"]').waitFor();
    await sheet.getByRole('combobox', { name: 'rating' }).selectOption('4');
    await sheet.getByRole('textbox', { name: 'remark' }).fill('the sky a sixth more');
    await sheet.getByRole('button', { name: 'Keep it' }).click();
    await sheet.getByText('4 of 5').waitFor();
    await lookAt(page, 'day 7, the sheet');
    await sheet.getByRole('button', { name: 'Printing map' }).click();
    await page.getByRole('img', { name: /Printing map/ }).waitFor();
    await lookAt(page, 'day 8, the map');
    const pdf = await page.pdf({ preferCSSPageSize: true });
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    // The next day both the print and its scan lie on the desk.
    await page.reload();
    await page.getByText('Negative: scan.png').waitFor();
    await finish();
    await server.close();
    await desk.close();
    port.close();
    simulated.close();
  });
});

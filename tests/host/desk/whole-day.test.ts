import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { holdPedal, tapPedal } from '../../../host/board/sim/controls.js';
import { offerPort } from '../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { boardForDesk, boardRoom, nightsRoom, openDeskServer, scanRoom } from '../../../host/desk/index.js';
import { launchChromium, openWatched, pageTestsRun } from './chromium.js';
import { lookAt } from './look-at.js';

const MOST_TAPS = 60;

/** As a printer works a sheet: taps, and waits while the lamp is on, until the panel says that it is done. */
function printSheet(board: SimulatedBoard): void {
  for (let taps = 0; taps < MOST_TAPS && !board.panel[3]!.trimEnd().endsWith('done'); taps++) {
    if (board.panel[0]!.startsWith('Stopped down?')) holdPedal(board, 900);
    else tapPedal(board);
    board.advanceUs(1_000_000);
    while (board.lampOn) board.advanceUs(500_000);
  }
  holdPedal(board, 900);
  board.advanceUs(2_000_000);
}

describe.runIf(pageTestsRun && process.platform !== 'win32')('in a browser, a day at the desk', () => {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-day-'));
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true });
  });

  it('goes from a scan and an empty archive to a remark on the dry print and its map on paper', async () => {
    const { samples, width, height } = boathouseNegative(200);
    const scan = join(folder, 'scan.png');
    await sharp(Uint16Array.from(samples), { raw: { width, height, channels: 1 } })
      .png()
      .toFile(scan);
    const archive = join(folder, 'archive.sqlite');
    const simulated = new SimulatedBoard({ speed: 20 });
    const port = await offerPort(simulated.plug());
    const desk = boardForDesk(port.path);
    const server = await openDeskServer([scanRoom(), nightsRoom(archive), boardRoom(desk, archive)]);
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.locator('.picture canvas[data-drawn]').waitFor();
    await lookAt(page, 'the desk');
    await page.locator('input[type="file"]').first().setInputFiles(scan);
    await page.locator('.picture canvas[data-drawn]').waitFor();
    await lookAt(page, 'day 1, the scan');

    const areas = page.getByRole('group', { name: 'Areas on the sheet' });
    await page.getByRole('combobox', { name: 'area' }).selectOption('rectangle');
    await page.getByRole('button', { name: 'New burn' }).press('Enter');
    const area = areas.getByRole('button', { name: 'burn 5' });
    await area.focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('+');
    const face = (await areas.getByRole('button', { name: 'dodge 1, face' }).locator('.line').boundingBox())!;
    await page.mouse.move(face.x + face.width / 2, face.y + 4);
    await page.mouse.down();
    await page.mouse.move(face.x + 60, face.y + 30, { steps: 3 });
    await page.mouse.up();
    await page.getByText('The strip that would find the base').click();
    await lookAt(page, 'day 2, areas and strip');

    await page.getByRole('button', { name: 'The board' }).click();
    await page.getByRole('heading', { name: `at ${port.path}` }).waitFor();
    await page.getByRole('button', { name: /^Send/ }).click();
    await page.getByText(/'boathouse' version \d+ is on board/).waitFor();
    await lookAt(page, 'day 3, sent');

    // The hand at the knob would choose it; the pedal does the rest.
    await desk.with((board) => board.choose('recipe', 'boathouse'));
    printSheet(simulated);
    await lookAt(page, 'day 4, the evening');
    await page.getByRole('button', { name: 'Collect the log' }).click();
    await page.getByText(/new records? of board/).waitFor();
    await lookAt(page, 'day 5, collected');

    await page.getByRole('button', { name: 'The nights' }).click();
    await page.locator('.list li button').click();
    const sheet = page.getByRole('article');
    await sheet.getByText('burn sky').waitFor();
    await sheet.getByText('burn area 5').waitFor();
    await sheet.locator('canvas[aria-busy="false"]').waitFor();
    await sheet.getByRole('combobox', { name: 'rating' }).selectOption('4');
    await sheet.getByRole('textbox', { name: 'remark' }).fill('the sky a sixth more');
    await sheet.getByRole('button', { name: 'Keep it' }).click();
    await sheet.getByText('4 of 5').waitFor();
    await lookAt(page, 'day 6, the sheet');
    await sheet.getByRole('button', { name: 'Printing map' }).click();
    await page.getByRole('img', { name: /Printing map/ }).waitFor();
    const pdf = await page.pdf({ preferCSSPageSize: true });
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    await finish();
    await server.close();
    await desk.close();
    port.close();
    simulated.close();
  });
});

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { framed } from '../../../host/darkroom/negative/framed.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { previewPrint } from '../../../host/darkroom/picture/preview.js';
import { paperProfileOf } from '../../../host/daylight/papers/measured-paper.js';
import {
  openDeskServer,
  papersRoom,
  scanRoom,
  WorkThread,
  writeStaticDesk,
} from '../../../host/desk/index.js';
import { noFraming } from '../../../host/recipe/framing.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { keptStrip, papers } from '../daylight/read-papers.js';
import { browserAndServer } from './browser-and-server.js';
import { findBarriers, openUnwatched, openWatched, pageTestsRun } from './chromium.js';
import { firstColourOf } from './first-colour.js';
import { lookAt } from './look-at.js';

/** As many lines as `treadle preview` gives the invented negative. */
const PREVIEW_LINES = 800;

/** Less than a tenth of one picture: what the browser itself needs now and then. */
const SLACK_BYTES = 300_000;

async function openPicture(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.locator('.picture canvas[data-drawn]').waitFor();
}

/** The picture's greys as they stand on its canvas. */
function greysOf(page: Page): Promise<Buffer> {
  return firstColourOf(page.locator('.picture canvas').first());
}

/** How far at most the picture on its canvas is from this one; all the way where it has another size. */
async function worstGrey(page: Page, expected: Uint8Array): Promise<number> {
  const shown = await greysOf(page);
  if (shown.length !== expected.length) return 255;
  return shown.reduce((most, grey, at) => Math.max(most, Math.abs(grey - expected[at]!)), 0);
}

interface Held {
  held: (() => void)[];
}

/** In the page: what a worker answers of densities waits until it is let through. */
function answerDensitiesWhenTold(): void {
  const page = globalThis as unknown as Held;
  page.held = [];
  const { set } = Object.getOwnPropertyDescriptor(Worker.prototype, 'onmessage')!;
  Object.defineProperty(Worker.prototype, 'onmessage', {
    set(this: Worker, take: (event: MessageEvent) => void) {
      set!.call(this, (event: MessageEvent) => {
        if (event.data?.made?.print === undefined) take(event);
        else page.held.push(() => take(event));
      });
    },
  });
}

const recipe = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json'), 'utf8'));
const negative = boathouseNegative(PREVIEW_LINES);

function previewOf(setup: Partial<Parameters<typeof previewPrint>[2]> = {}): Uint8Array {
  const whole = { negative, paper: new Paper(commonPaper), ...setup };
  return previewPrint(recipe, loadPlanner().planRecipe(recipe), whole).picture.pixels;
}

/** Waits for another picture than there was before `act`: what was wanted before is drawn more than once. */
async function drawnAfter(page: Page, act: () => Promise<void>): Promise<void> {
  const drawn = () =>
    page
      .locator('.picture canvas')
      .first()
      .evaluate((canvas: HTMLCanvasElement) => {
        const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
        return new Uint32Array(data.buffer).reduce((sum, pixel) => (31 * sum + pixel) | 0, canvas.width);
      });
  const before = await drawn();
  await act();
  await expect.poll(drawn).not.toBe(before);
}

/** By the Tab key alone: an attribute of a drawing is spelt otherwise than one of the page, and was once not heard. */
async function tabTo(page: Page, label: string): Promise<void> {
  for (let presses = 0; presses < 80; presses++) {
    await page.keyboard.press('Tab');
    if (await page.evaluate((wanted) => document.activeElement?.ariaLabel === wanted, label)) return;
  }
  expect.fail(`the Tab key does not come to ${label}`);
}

function areaNamed(page: Page, name: string) {
  return page.getByRole('group', { name: 'Areas on the sheet' }).getByRole('button', { name });
}

describe.runIf(pageTestsRun)('in a browser, the picture of the print', () => {
  const archive = join(mkdtempSync(join(tmpdir(), 'treadle-papers-')), 'archive.sqlite');
  const thread = new WorkThread();
  const desk = browserAndServer(async () => {
    await using kept = await openArchive(archive);
    for (const filter of ['2', '4'])
      await kept.addPaperReading({ paper: 'Pearl', developer: '', body: keptStrip(papers.Pearl, filter) });
    return openDeskServer([scanRoom(), papersRoom(archive, thread)]);
  });
  afterAll(async () => {
    await thread.close();
    rmSync(dirname(archive), { recursive: true });
  });

  it('is that of the preview, within a grey level', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, desk.server.url);
    expect(await worstGrey(page, previewOf())).toBeLessThanOrEqual(1);
    await finish();
  });

  it('is made on a paper that was measured when that is chosen, beside what was laid there on the common one', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, desk.server.url);
    const common = await greysOf(page);
    await page.getByRole('button', { name: 'Lay this beside' }).click();
    await page.getByLabel('on paper').selectOption('Pearl');
    await using reader = await readArchive(archive);
    const { figures } = (await paperProfileOf(reader, 'Pearl'))!;
    const expected = previewOf({ paper: new Paper(figures) });
    await expect.poll(() => worstGrey(page, expected)).toBeLessThanOrEqual(1);
    await page.getByText('On Pearl, version 2 of its profile').waitFor();
    await page.getByText('filter 00: R170, common practice, not measured.').waitFor();
    await page.getByText("By the table 'Pearl, as measured'").waitFor({ state: 'attached' });
    await lookAt(page, 'picture-on-pearl');
    expect(await findBarriers(page)).toEqual([]);
    await page.getByLabel('on paper').selectOption('common');
    await expect.poll(async () => (await greysOf(page)).equals(common)).toBe(true);
    await finish();
  });

  it('lies between the blades as the preview has it, by keys and by drag, and as before when that is undone', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, desk.server.url);
    const before = await greysOf(page);
    await drawnAfter(page, () => page.getByRole('button', { name: 'quarter turn right' }).click());
    const blade = page.getByLabel('left blade in, %');
    await drawnAfter(page, async () => {
      await blade.fill('12.5');
      await blade.press('Tab');
    });
    await page.locator('.blade.top').scrollIntoViewIfNeeded();
    const sheet = (await page.locator('.picture canvas').first().boundingBox())!;
    const top = (await page.locator('.blade.top').boundingBox())!;
    await page.mouse.move(top.x + top.width / 2, top.y + top.height / 2);
    await page.mouse.down();
    await drawnAfter(page, () =>
      page.mouse.move(top.x + top.width / 2, top.y + top.height / 2 + sheet.height / 5, { steps: 3 }),
    );
    await page.mouse.up();
    const topPercent = Number(await page.getByLabel('top blade in, %').inputValue());
    expect(Math.abs(topPercent - 20)).toBeLessThan(0.2);
    await page.getByLabel('turned, degrees').fill('1.5');
    await drawnAfter(page, () => page.getByLabel('turned, degrees').press('Tab'));
    const framing = { ...noFraming, quarterTurns: 1, leftPercent: 12.5, topPercent, turnDegrees: 1.5 };
    const expected = previewOf({ negative: framed(negative, framing) });
    await expect.poll(() => worstGrey(page, expected)).toBeLessThanOrEqual(1);
    await lookAt(page, 'picture-framed');
    expect(await findBarriers(page)).toEqual([]);
    for (let step = 0; step < 4; step++)
      await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(async () => (await greysOf(page)).equals(before)).toBe(true);
    await finish();
  });

  it('changes with an area that is moved by the mouse, and is as before when that is undone', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, desk.server.url);
    const before = await greysOf(page);
    const box = (await areaNamed(page, 'dodge 1, face').locator('.line').boundingBox())!;
    await page.mouse.move(box.x + box.width / 2, box.y + 4);
    await page.mouse.down();
    await drawnAfter(page, () => page.mouse.move(box.x + 90, box.y + 60, { steps: 4 }));
    await page.mouse.up();
    await expect.poll(async () => (await greysOf(page)).equals(before)).toBe(false);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => (await greysOf(page)).equals(before)).toBe(true);
    await expect
      .poll(() => page.getByRole('button', { name: 'Undo' }).getAttribute('aria-disabled'))
      .toBe('true');
    await finish();
  });

  it('is worked on by keys alone: an area is made, moved, enlarged, turned in stops and hidden', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, desk.server.url);
    const before = await greysOf(page);
    await page.getByRole('combobox', { name: 'area' }).selectOption('rectangle');
    await drawnAfter(page, () => page.getByRole('button', { name: 'New burn' }).press('Enter'));
    const area = areaNamed(page, 'burn 5');
    await area.focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowDown');
    for (let turns = 0; turns < 3; turns++) await page.keyboard.press('+');
    const outline = area.locator('rect.line');
    await expect.poll(() => area.getAttribute('aria-label')).toBe('burn 5, area 5, +3/4 stop');
    expect([await outline.getAttribute('y'), await outline.getAttribute('height')]).toEqual(['35', '31']);
    await page.keyboard.press('h');
    await expect.poll(async () => (await greysOf(page)).equals(before)).toBe(true);
    await finish();
  });

  it('tells densities under the pointer, and stands beside what it was', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, desk.server.url);
    await page.getByRole('button', { name: 'Lay this beside' }).click();
    await page.getByRole('img', { name: 'The print laid beside' }).waitFor();
    await page.getByRole('img', { name: 'The sheet as it would print' }).hover({ force: true });
    await page.getByText(/Under the pointer: print \d\.\d\d, negative \d\.\d\d/).waitFor();
    expect(await findBarriers(page)).toEqual([]);
    await finish();
  });

  it('tells no density once the pointer has left, however late the answer comes', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await page.addInitScript(answerDensitiesWhenTold);
    await openPicture(page, desk.server.url);
    const words = page.getByText(/^Under the pointer/);
    const picture = page.getByRole('img', { name: 'The sheet as it would print' });
    const answersHeld = () => page.evaluate(() => (globalThis as unknown as Held).held.length);
    const answer = () =>
      page.evaluate(() => (globalThis as unknown as Held).held.splice(0).map((each) => each()));
    await picture.hover({ force: true });
    await expect.poll(answersHeld).toBe(1);
    await page.mouse.move(0, 0);
    await answer();
    expect(await words.textContent()).toBe('Under the pointer: -');
    await picture.hover({ force: true });
    await expect.poll(answersHeld).toBe(1);
    await answer();
    await page.getByText(/Under the pointer: print \d\.\d\d/).waitFor();
    await finish();
  });

  // Chromium itself complains on its console of an answer that refuses, so this page is not watched.
  it('is of the scan that was chosen, and says why a file is none', async () => {
    const page = await openUnwatched(desk.browser);
    await openPicture(page, desk.server.url);
    const grey = sharp({ create: { width: 90, height: 40, channels: 3, background: '#888' } });
    const scan = grey.extend({ bottom: 20, background: '#444' });
    const file = { name: '07-12.png', mimeType: 'image/png', buffer: await scan.png().toBuffer() };
    await page.getByLabel(/scan, chosen or dropped/).setInputFiles(file);
    // What is drawn first may still be the one before.
    await expect.poll(async () => (await greysOf(page)).length).toBe(90 * 60);
    const letter = { name: 'letter.png', mimeType: 'image/png', buffer: Buffer.from('Dear Sir') };
    await page.getByLabel(/07-12.png/).setInputFiles(letter);
    await page.getByRole('alert').getByText('letter.png is no picture').waitFor();
    expect((await greysOf(page)).length).toBe(90 * 60);
    await page.close();
  });

  it('has polygons whose corners are moved, doubled and taken away by keys, three at least', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, desk.server.url);
    await page.getByRole('combobox', { name: 'area' }).selectOption('polygon');
    await page.getByRole('button', { name: 'New burn' }).press('Enter');
    await tabTo(page, 'burn 5, area 5, +1/2 stop');
    await tabTo(page, 'corner 2 of 6');
    const cornersOf = async () =>
      (await areaNamed(page, 'burn 5').locator('polygon.line').getAttribute('points'))!.split(' ');
    const before = await cornersOf();
    await page.keyboard.press('ArrowDown');
    const secondY = (corners: string[]) => Number(corners[1]!.split(',')[1]);
    await expect.poll(async () => secondY(await cornersOf())).toBeCloseTo(secondY(before) + 1, 6);
    await page.keyboard.press('n');
    await expect.poll(async () => (await cornersOf()).length).toBe(7);
    for (let presses = 0; presses < 6; presses++)
      await page.getByRole('button', { name: 'Take the corner away' }).press('Enter');
    await expect.poll(async () => (await cornersOf()).length).toBe(3);
    await finish();
  });

  // Pictures go back and forth in one piece of memory, and steps that follow each other are one.
  it('takes no more memory after a thousand moves than after a hundred', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, desk.server.url);
    const devtools = await page.context().newCDPSession(page);
    const usedBytes = async () => {
      await devtools.send('HeapProfiler.collectGarbage');
      return (await devtools.send('Runtime.getHeapUsage')).usedSize;
    };
    await page.getByRole('button', { name: 'dodge 1, face' }).focus();
    const move = (times: number) =>
      page.evaluate(async (count) => {
        for (let at = 0; at < count; at++) {
          const key = at % 2 === 0 ? 'ArrowLeft' : 'ArrowRight';
          document.activeElement!.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
          if (at % 10 === 0) await new Promise(requestAnimationFrame);
        }
      }, times);
    await move(100);
    const afterHundred = await usedBytes();
    await move(900);
    expect(await usedBytes()).toBeLessThan(afterHundred + SLACK_BYTES);
    await finish();
  });

  it('works from a folder, where no worker may be', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'treadle-static-'));
    await writeStaticDesk(folder, true);
    const { page, finish } = await openWatched(desk.browser);
    await openPicture(page, pathToFileURL(join(folder, 'index.html')).href);
    await finish();
    rmSync(folder, { recursive: true });
  });
});

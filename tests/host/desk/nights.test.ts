import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { NoBoardError } from '../../../host/board/errors.js';
import { boardRoom, type DeskServer, nightsRoom, openDeskServer } from '../../../host/desk/index.js';
import { BoardAtDesk } from '../../../host/desk/server/board/board-at-desk.js';
import { listOfAll } from '../../../host/desk/server/nights/list-of-all.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { REPLACEMENT, unsafeCharacters } from '../../../host/unsafe-characters.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { treadle } from '../cli/treadle.js';
import { hostileTexts } from '../pages/hostile-text.js';
import { printIntoArchive } from '../records/again/print-into-archive.js';
import { answeredLate } from './answered-late.js';
import { findBarriers, launchChromium, openWatched, pageTestsRun } from './chromium.js';
import { lookAt } from './look-at.js';

const demo = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
const noBoard = new BoardAtDesk(() => Promise.reject(new NoBoardError('no board answered')));
const folder = mkdtempSync(join(tmpdir(), 'treadle-nights-'));
const archive = join(folder, 'archive.sqlite');
afterAll(() => rmSync(folder, { recursive: true }));

/** How many pages a PDF has, and whether they are A4 (ISO 216: 210 mm by 297 mm), in points. */
function pagesOf(pdf: Buffer): { readonly sheets: number; readonly isA4: boolean }[] {
  const boxes = [...pdf.toString('latin1').matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)];
  const isA4 = boxes.every(
    ([, width, height]) => Math.abs(Number(width) - 595.3) < 1 && Math.abs(Number(height) - 841.9) < 1,
  );
  return boxes.length === 0 ? [] : [{ sheets: boxes.length, isA4 }];
}

describe.runIf(pageTestsRun)('in a browser, the nights', () => {
  let browser: Browser;
  let server: DeskServer;
  beforeAll(async () => {
    await printIntoArchive(archive, demo, async (printer) => {
      await printer.print('boathouse');
      await printer.print('boathouse', { pushes: 1, clicks: 3 });
      await printer.print('boathouse', { powerFailsAfterS: 6 });
    });
    [browser, server] = await Promise.all([
      launchChromium(),
      openDeskServer([nightsRoom(archive), boardRoom(noBoard, archive)]),
    ]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
    await noBoard.close();
  });

  it('are listed, opened and remarked on by keyboard alone, into the same archive as by the command', async () => {
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The nights' }).press('Enter');
    await page.getByRole('button', { name: /5 March 2027/ }).press('Enter');
    const second = page.getByRole('article', { name: 'Sheet 2027-03-05/2' });
    await expect.poll(() => second.textContent()).toMatch(/against2027-03-05\/1base\+0\.\d\d stop/);
    await second.getByRole('combobox', { name: 'rating' }).press('4');
    await second.getByRole('textbox', { name: 'remark' }).pressSequentially('sky a sixth less');
    await page.keyboard.press('Enter');
    await second.getByText('4 of 5').waitFor();
    await page.locator('canvas[aria-busy="false"]').nth(1).waitFor();
    await lookAt(page, 'nights');
    expect(await findBarriers(page)).toEqual([]);
    await treadle(['remark', '2027-03-05/2', '--rating', '4', 'sky a sixth less', '--archive', archive]);
    await using kept = await readArchive(archive);
    const [typed, commanded] = (await kept.remarks()).map(({ writtenMs: _writtenMs, ...said }) => said);
    expect(typed).toEqual(commanded);
    await finish();
  });

  // Each of these went with what had the focus, and the Tab key began at the page's first control again.
  it('let go of no place on the page: what is opened has the keys, and closed gives them back', async () => {
    for (const width of [1280, 600]) {
      const { page, finish } = await openWatched(browser, { viewport: { width, height: 800 } });
      await page.goto(server.url);
      await page.getByRole('button', { name: 'The nights' }).press('Enter');
      const night = page.getByRole('button', { name: /5 March 2027/ });
      await night.press('Enter');
      const has = (name: string | RegExp) =>
        page.getByRole('button', { name }).and(page.locator(':focus')).waitFor();
      const second = page.getByRole('article', { name: 'Sheet 2027-03-05/2' });
      await second.waitFor();
      if (width === 600) {
        await has('Back to the list');
        await page.keyboard.press('Enter');
        await has(/5 March 2027/);
        await page.keyboard.press('Enter');
        await second.waitFor();
      } else await has(/5 March 2027/);
      for (const name of ['The night as a page to print', 'Printing map']) {
        await page.getByRole('button', { name }).first().press('Enter');
        await has('Print it');
        await page.keyboard.press('Tab');
        await page.keyboard.press('Enter');
        await has(name);
      }
      await page.getByRole('article').first().getByRole('button', { name: 'Compare it' }).press('Enter');
      await second.getByRole('button', { name: /^Compare with 2027/ }).press('Enter');
      await page.getByRole('button', { name: 'Back', exact: true }).press('Enter');
      await has(/^Compare/);
      await finish();
    }
  });

  it('say of light that a power cut ended that nobody knows how much it was', async () => {
    const { page, finish } = await openWatched(browser, { viewport: { width: 360, height: 740 } });
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The nights' }).click();
    await page.getByRole('button', { name: /5 March 2027/ }).click();
    const third = page.getByRole('article', { name: 'Sheet 2027-03-05/3' });
    await third.getByText('no log tells how much').waitFor();
    await lookAt(page, 'nights-narrow');
    await page.locator('canvas[aria-busy="false"]').nth(1).waitFor();
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(360);
    expect(await findBarriers(page)).toEqual([]);
    await finish();
  });

  it('put a print on the desk again, lay two beside each other, and lie on A4 paper', async () => {
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The nights' }).click();
    await page.getByRole('button', { name: /5 March 2027/ }).click();
    const [first, second] = [1, 2].map((sheet) =>
      page.getByRole('article', { name: `Sheet 2027-03-05/${sheet}` }),
    );
    await second!.getByRole('button', { name: 'Put it on the desk again' }).click();
    await page.getByText("'Boathouse, late sun' version 2 is on the desk").waitFor();
    await first!.getByRole('button', { name: 'Compare it' }).click();
    // A remark tells the night anew: the sheet once offered to be compared with itself.
    const remark = first!.getByRole('textbox', { name: 'remark' });
    const keeping = await answeredLate(page, 'POST', /api\/remark/);
    await remark.fill('gulls too grey');
    await first!.getByRole('button', { name: 'Keep it' }).click();
    await keeping.asked;
    await remark.fill('and so is the lake');
    keeping.answer();
    await first!.getByText('gulls too grey').waitFor();
    expect(await remark.inputValue()).toBe('and so is the lake');
    await first!.getByRole('button', { name: 'Compare with... (choose another sheet)' }).waitFor();
    await second!.getByRole('button', { name: 'Compare with 2027-03-05/1' }).click();
    await page.getByRole('row', { name: /^base 12\.500 s 14\.865 s \+0\.25 stop/ }).waitFor();
    const pictures = page.locator('.pictures canvas[aria-busy="false"]');
    await expect.poll(() => pictures.count()).toBe(2);
    await lookAt(page, 'nights-compared');
    await page.getByRole('button', { name: 'Back' }).click();
    await second!.getByRole('button', { name: 'Printing map' }).click();
    await page.getByRole('img', { name: /Printing map: Boathouse/ }).waitFor();
    await lookAt(page, 'nights-map');
    expect(await findBarriers(page)).toEqual([]);
    expect(pagesOf(await page.pdf({ preferCSSPageSize: true }))).toEqual([{ sheets: 1, isA4: true }]);
    await page.getByRole('button', { name: 'Back' }).click();
    await page.getByRole('button', { name: 'The night as a page to print' }).click();
    await page.getByText('Every light of the night').waitFor();
    await lookAt(page, 'nights-page');
    expect(pagesOf(await page.pdf({ preferCSSPageSize: true }))[0]).toMatchObject({ isA4: true });
    await finish();
  });

  it('are red on black where somebody wants them so, on every view, and stay so', async () => {
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.locator('nav button').first().waitFor();
    const views = await page.locator('nav button').allTextContents();
    expect(views).toHaveLength(4);
    await page.getByRole('checkbox', { name: 'red on black' }).check();
    await page.reload();
    await page.getByText('a screen still fogs paper').first().waitFor();
    for (const view of views) {
      await page.getByRole('button', { name: view, exact: true }).click();
      await page.locator('h1').waitFor();
      await lookAt(page, `dark ${view}`);
      expect({ view, barriers: await findBarriers(page) }).toEqual({ view, barriers: [] });
    }
    await finish();
  });

  it('show hostile texts of negative, board and remarks as text', async () => {
    const file = join(folder, 'hostile.sqlite');
    const [title, negative] = hostileTexts as readonly string[];
    await printIntoArchive(file, { ...demo, title: title!, negative: negative! }, async (printer, filled) => {
      await printer.print('boathouse');
      await filled.nameBoard(printer.pair.board.id, title!);
    });
    const other = await openDeskServer([nightsRoom(file)]);
    const { page, finish } = await openWatched(browser);
    const foreign = () => page.locator('main').locator('script, img, iframe, a, [onload], [onerror]').count();
    await page.goto(other.url);
    await page.getByRole('button', { name: 'The nights' }).click();
    await page.getByRole('button', { name: /5 March 2027/ }).click();
    for (const [at, text] of hostileTexts.entries()) {
      await page.getByRole('textbox', { name: 'remark' }).fill(text);
      await page.getByRole('button', { name: 'Keep it' }).click();
      await page.locator('.remarks li').nth(at).waitFor();
    }
    expect(await page.locator('.remarks li').allTextContents()).toEqual(
      hostileTexts.map((text) => ` ${text.replace(unsafeCharacters, REPLACEMENT)}`),
    );
    expect(await foreign()).toBe(0);
    await page.getByRole('radio', { name: 'negative' }).check();
    const ofNegative = page.getByRole('button', { name: title! });
    await ofNegative.waitFor();
    expect(await foreign()).toBe(0);
    // What is closed before its nights have come stays closed, and nothing is said of it.
    const nights = await answeredLate(page, 'GET', /api\/night\?/);
    // So narrow that what is open lies over the list.
    await page.setViewportSize({ width: 360, height: 740 });
    const back = page.getByRole('button', { name: 'Back to the list' });
    await back.click();
    await ofNegative.click();
    await nights.asked;
    await back.click();
    const came = page.waitForResponse(/api\/night\?/);
    nights.answer();
    await (await came).finished();
    await expect.poll(() => page.getByRole('alert').allTextContents()).toEqual(['']);
    expect(await page.locator('.night').count()).toBe(0);
    await finish();
    await other.close();
  });
});

describe('the list of nights', () => {
  it('has all of a thousand nights, the last first', async () => {
    const file = join(folder, 'thousand.sqlite');
    await using filled = await openArchive(file);
    const records = Array.from({ length: 1000 }, (_, night) => {
      const [boot, seq, uptimeMs] = [night + 1, night + 1, 60_000];
      const told = Date.UTC(2027, 0, 1 + night, 20);
      return { boot, seq, uptimeMs, type: 'clock', fields: [boot, seq, uptimeMs, told] };
    });
    await filled.keepRecords('00000000000000a1', 0, records);
    const other = await openDeskServer([nightsRoom(file)]);
    const { origin, hash } = new URL(other.url);
    const answer = await fetch(`${origin}/api/nights`, { headers: { 'treadle-token': hash.slice(1) } });
    const { nights } = (await answer.json()) as { nights: unknown[] };
    expect(nights).toEqual((await listOfAll(filled.nights())).reverse());
    expect(nights).toHaveLength(1000);
    await other.close();
  });
});

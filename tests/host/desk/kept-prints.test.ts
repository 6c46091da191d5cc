import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { type DeskServer, openDeskServer, printsRoom, writeStaticDesk } from '../../../host/desk/index.js';
import { readRecipe, writeRecipe } from '../../../host/recipe/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { treadle } from '../cli/treadle.js';
import { answeredLate } from './answered-late.js';
import { browserAndServer } from './browser-and-server.js';
import { openWatched, pageTestsRun } from './chromium.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-prints-'));
const archive = join(folder, 'archive.sqlite');
afterAll(() => rmSync(folder, { recursive: true }));

/** As somebody laid it out by hand, with the version of another evening. */
const byHand = readFileSync(join(projectRoot, 'host/evening/boathouse.json'), 'utf8').replace(
  /^ {2}"base"/m,
  '\n  "base"  ',
);

async function turn(page: Page, name: string, to: string): Promise<void> {
  const field = page.getByRole('spinbutton', { name, exact: true });
  await field.fill(to);
  await field.press('Enter');
}

/** Until it is on the desk: what is turned before is turned on the print that lies there. */
async function openFile(page: Page, name: string): Promise<void> {
  await page.getByRole('button', { name: 'Open', exact: true }).click();
  await page.getByRole('button', { name }).click();
  await page.getByText(`${name} is on the desk`).waitFor();
}

/** Both were made within the same minute, but for midnight. */
function undated(text: string): string {
  return text.replace(/\d{4}-\d\d-\d\d /g, '');
}

function openServer(): Promise<DeskServer> {
  return openDeskServer([printsRoom({ archive, folder })]);
}

describe.runIf(pageTestsRun)('in a browser, prints', () => {
  const desk = browserAndServer(openServer);

  it('changed there and by the command line are the same file, byte for byte, in the layout that it had', async () => {
    const own = join(folder, 'own.json');
    writeFileSync(own, byHand);
    const wanted = ['--set', 'sky=+1', '--set', 'base=14s', '--set', 'face=-1/3', '--set', 'dryDown=8%'];
    wanted.push('--set', 'framing.quarterTurns=1', '--set', 'framing.leftPercent=4');
    const byCommand = await treadle(['change', own, ...wanted, '--output', join(folder, 'by-command.json')]);
    expect(byCommand.code).toBe(0);
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(desk.server.url);
    await openFile(page, 'own.json');
    await turn(page, 'stops of burn sky', '1');
    await turn(page, 'base', '14');
    await turn(page, 'stops of dodge face', '1/3');
    await turn(page, 'dry-down', '8');
    await page.getByRole('button', { name: 'quarter turn right' }).click();
    await page.getByLabel('left blade in, %').fill('4');
    await page.getByLabel('left blade in, %').press('Enter');
    await page.getByRole('button', { name: 'Write the file' }).click();
    await page.getByText(/version \d+ is in/).waitFor();
    expect(undated(readFileSync(own, 'utf8'))).toBe(
      undated(readFileSync(join(folder, 'by-command.json'), 'utf8')),
    );
    await finish();
  });

  it('whose filter was changed, base split and named anew there are what the commands make of them, byte for byte', async () => {
    const [own, refiltered, split, named] = ['worked', 'refiltered', 'split', 'named'].map((name) =>
      join(folder, `${name}.json`),
    ) as [string, string, string, string];
    writeFileSync(own, writeRecipe(readRecipe(byHand)));
    for (const command of [
      ['filter', own, '--pass', '2', '--to', '4', '-o', refiltered],
      ['split', refiltered, '--soft', '00:8s', '--hard', '5:12s', '-o', split],
      // The patch a third of a stop above the base of 8 s: 8 s x 2^(1/3).
      ['change', split, '--set', 'name=boathouse-split', '--set', 'base=10.079s', '--output', named],
    ])
      expect(await treadle(command)).toMatchObject({ code: 0 });
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(desk.server.url);
    await openFile(page, 'worked.json');
    await page.getByText('Filters and contrast').click();
    const other = page.getByRole('group', { name: 'Another filter' });
    await other.getByRole('combobox', { name: 'for' }).selectOption('burn sky, filter 00');
    await other.getByRole('combobox', { name: 'to' }).selectOption('filter 4');
    await other.getByRole('button').click();
    await other.getByText("Filter 00 to filter 4: time x 2 (table 'common filters')").waitFor();
    const base = page.getByRole('group', { name: 'Split the base' });
    await base.getByRole('textbox', { name: 'highlights right at' }).fill('8s');
    await base.getByRole('textbox', { name: 'shadows right at' }).fill('12s');
    await base.getByRole('button', { name: 'Split it' }).click();
    await page.getByRole('spinbutton', { name: 'stops of base hard' }).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('spinbutton', { name: 'stops of base hard' }).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Redo' }).click();
    await page.getByText('The strip that would find the base').click();
    await page.getByRole('combobox', { name: 'what was right' }).selectOption('patch 5, 10.079 s');
    await page.getByRole('button', { name: 'Make it the base' }).click();
    const name = page.getByRole('textbox', { name: 'name on the board' });
    await name.fill('Boathouse-split');
    await name.press('Enter');
    await page.getByRole('button', { name: 'Write the file' }).click();
    await page.getByText(/'boathouse-split' version \d+ is in .*worked.json/).waitFor();
    expect(undated(readFileSync(own, 'utf8'))).toBe(undated(readFileSync(named, 'utf8')));
    await finish();
  });

  it('are not written over a file that something else changed meanwhile', async () => {
    const own = join(folder, 'meanwhile.json');
    writeFileSync(own, byHand);
    const { page } = await openWatched(desk.browser);
    await page.goto(desk.server.url);
    await openFile(page, 'meanwhile.json');
    await turn(page, 'base', '15');
    writeFileSync(own, `${byHand}\n`);
    await page.getByRole('button', { name: 'Write the file' }).click();
    await page.getByText('meanwhile.json was changed meanwhile by something else').waitFor();
    expect(readFileSync(own, 'utf8')).toBe(`${byHand}\n`);
    // The browser itself complains of the refusal, which is meant.
    await page.context().close();
  });

  it('keep what is turned before a file was opened or written, and the file that was chosen last lies there', async () => {
    for (const name of ['slow', 'quick']) writeFileSync(join(folder, `${name}.json`), byHand);
    const { page, finish } = await openWatched(desk.browser);
    const slow = await answeredLate(page, 'GET', /file\?name=slow/);
    const writing = await answeredLate(page, 'POST', /prints\/file/);
    const base = page.getByRole('spinbutton', { name: 'base', exact: true });
    await page.goto(desk.server.url);
    await page.getByRole('button', { name: 'New', exact: true }).click();
    await page.getByText('A new print: give it a title').waitFor();
    await page.getByRole('button', { name: 'Open', exact: true }).click();
    await page.getByRole('button', { name: 'slow.json' }).click();
    await slow.asked;
    await turn(page, 'base', '15');
    slow.answer();
    await page.getByText('slow.json is on the desk. What was changed before it came').waitFor();
    await expect.poll(() => base.inputValue()).toBe('12.5s');
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => base.inputValue()).toBe('15s');
    await page.getByRole('button', { name: 'Redo' }).click();

    await turn(page, 'base', '14');
    await page.getByRole('button', { name: 'Write the file' }).click();
    await writing.asked;
    await turn(page, 'stops of dodge face', '1/3');
    writing.answer();
    await page.getByText(/version \d+ is in .*slow.json/).waitFor();
    expect(await base.inputValue()).toBe('14s');
    expect(await page.getByRole('spinbutton', { name: 'stops of dodge face' }).inputValue()).toBe('−1/3');
    await page.getByRole('button', { name: 'Write the file' }).click();
    const lines = () => readRecipe(readFileSync(join(folder, 'slow.json'), 'utf8')).history.map(undated);
    await expect.poll(lines).toEqual(['base 12.5s to 14s', 'dodge face -1/2 -> -1/3']);
    // Taken back after it was written, and written again: as one change more.
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Write the file' }).click();
    await expect
      .poll(lines)
      .toEqual(['base 12.5s to 14s', 'dodge face -1/2 -> -1/3', 'dodge face -1/3 -> -1/2']);

    await page.getByRole('button', { name: 'Open', exact: true }).click();
    const again = await answeredLate(page, 'GET', /file\?name=slow/);
    await page.getByRole('button', { name: 'slow.json' }).click();
    await again.asked;
    await page.getByRole('button', { name: 'quick.json' }).click();
    again.answer();
    await page.getByText('quick.json is on the desk').waitFor();
    await turn(page, 'base', '13');
    await page.getByRole('button', { name: 'Write the file' }).click();
    await page.getByText(/version \d+ is in .*quick.json/).waitFor();
    await finish();
  });

  it('are kept as versions in the archive, where the commands find them, and opened from there', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(desk.server.url);
    await page.getByRole('button', { name: 'New', exact: true }).click();
    const title = page.getByRole('textbox', { name: 'title' });
    await page.getByRole('button', { name: 'Keep in the archive' }).click();
    await page.getByText('Give the print a title first').waitFor();
    await title.fill('Slipway');
    await title.press('Enter');
    await page.getByRole('button', { name: 'Keep in the archive' }).click();
    await page.getByText("'slipway' version 1 is in the archive").waitFor();
    await turn(page, 'base', '11');
    await page.getByRole('button', { name: 'Keep in the archive' }).click();
    await page.getByText("'slipway' version 2 is in the archive").waitFor();
    const { out } = await treadle(['recipes', '--json', '--archive', archive]);
    const kept = JSON.parse(out) as { recipe: { version: number; baseMs: number } }[];
    expect(kept.map(({ recipe }) => [recipe.version, recipe.baseMs])).toEqual([
      [1, 10_000],
      [2, 11_000],
    ]);
    await page.getByRole('button', { name: 'Open', exact: true }).click();
    await page.getByRole('button', { name: 'Slipway, version 1' }).click();
    await page.getByText("'slipway' version 1 is on the desk").waitFor();
    await expect
      .poll(() => page.getByRole('spinbutton', { name: 'base', exact: true }).inputValue())
      .toBe('10s');
    await page.getByRole('button', { name: 'Lay a kept print beside' }).click();
    await page.getByLabel('which').selectOption({ label: 'Slipway, version 2' });
    await page.getByText('laid beside: Slipway, version 2, as it was').waitFor();
    await finish();
  });

  it('have the figure that was just being typed when the page was left', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(desk.server.url);
    const base = page.getByRole('spinbutton', { name: 'base', exact: true });
    await base.fill('19');
    await page.goto('about:blank');
    // The browser sends it in its own time.
    await expect.poll(() => readFileSync(`${archive}.desk.json`, 'utf8')).toContain('"baseMs":19000');
    await page.goto(desk.server.url);
    expect(await base.inputValue()).toBe('19s');
    await finish();
  });

  it('that are worked on are there again when page and server were closed, of a file of any size', async () => {
    // With a file of more than 64 KB, which a browser does not send for a page that closes, none was kept at all.
    writeFileSync(join(folder, 'long.json'), byHand + ' '.repeat(70_000));
    const before = await openServer();
    const first = await openWatched(desk.browser);
    await first.page.goto(before.url);
    await openFile(first.page, 'long.json');
    await turnAndKeep(first.page, 21);
    await first.finish();
    await before.close();
    const after = await openServer();
    const again = await openWatched(desk.browser);
    await again.page.goto(after.url);
    const base = again.page.getByRole('spinbutton', { name: 'base', exact: true });
    expect(await base.inputValue()).toBe('21s');

    // The draft of the page that wrote last was kept, and the other was told nothing.
    const other = await openWatched(desk.browser);
    await other.page.goto(after.url);
    await turnAndKeep(again.page, 22);
    const told = (page: Page) => page.getByText('in another window of this desk as well').count();
    expect(await told(again.page)).toBe(0);
    await turnAndKeep(other.page, 23);
    await expect.poll(() => told(other.page)).toBe(1);
    await other.finish();
    await again.finish();
    await after.close();
  });

  it('are dropped on a page without a server, downloaded from it, and there again, in the browser', async () => {
    const files = mkdtempSync(join(tmpdir(), 'treadle-static-'));
    await writeStaticDesk(files, true);
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(pathToFileURL(join(files, 'index.html')).href);
    const handed = await page.evaluateHandle((text) => {
      const data = new DataTransfer();
      data.items.add(new File([text], 'own.json', { type: 'application/json' }));
      return data;
    }, byHand);
    await page.dispatchEvent('main', 'drop', { dataTransfer: handed });
    await page.getByText('own.json is on the desk').waitFor();
    await turn(page, 'base', '14');
    const downloading = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Write the file' }).click();
    const download = await downloading;
    expect(download.suggestedFilename()).toBe('own.json');
    expect(readFileSync(await download.path(), 'utf8')).toContain('\n  "base"  : "14s"');
    await expect.poll(() => page.evaluate(() => JSON.stringify({ ...localStorage }))).toContain('14000');
    await page.reload();
    const base = page.getByRole('spinbutton', { name: 'base', exact: true });
    await expect.poll(() => base.inputValue()).toBe('14s');
    await finish();
    rmSync(files, { recursive: true });
  });
});

/** Turns the base, until the server has it. */
async function turnAndKeep(page: Page, seconds: number): Promise<void> {
  const kept = page.waitForResponse(
    (answer) =>
      answer.url().includes('/draft') &&
      answer.ok() &&
      (answer.request().postData() ?? '').includes(`"baseMs":${seconds}000`),
  );
  await turn(page, 'base', String(seconds));
  await kept;
}

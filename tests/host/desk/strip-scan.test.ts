import { copyFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { tied } from '../../../host/darkroom/negative/tied.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { previewPrint } from '../../../host/darkroom/picture/preview.js';
import type { KeptStripReading } from '../../../host/darkroom/profile/kept-reading.js';
import {
  type DeskServer,
  KeptScan,
  nightsRoom,
  openDeskServer,
  papersRoom,
  printsRoom,
  scanRoom,
  stripRoom,
  WorkThread,
} from '../../../host/desk/index.js';
import { PrintMaker } from '../../../host/desk/page/picture/print-maker.js';
import { readNight } from '../../../host/desk/server/nights/sheets-of-night.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { Random } from '../../setup/random.js';
import { treadleHere } from '../cli/in-this-process.js';
import { madeNegative, scannedNegative } from '../darkroom/reading/made-negative.js';
import { madeEasel, madePictureStrip } from '../darkroom/reading/made-picture-strip.js';
import { madeStrip } from '../darkroom/reading/made-strip.js';
import { baseStops } from '../darkroom/reading/picture-trials.js';
import { printIntoArchive } from '../records/again/print-into-archive.js';
import { answeredLate } from './answered-late.js';
import { findBarriers, launchChromium, openWatched, pageTestsRun } from './chromium.js';
import { lookAt } from './look-at.js';

const PICTURE_SEED = 4;
const demo = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
const folder = mkdtempSync(join(tmpdir(), 'treadle-strip-scan-'));
const archive = join(folder, 'archive.sqlite');
const scan = join(folder, 'strip.png');
const blank = join(folder, 'blank.png');
// Half-stop steps from the seed, so that a board can have given it.
const strip = madeStrip(new Random(7), { device: 'flatbed' });
const film = join(folder, 'boathouse.png');
const ofPicture = join(folder, 'strip-of-picture.png');
// Its half-stop steps, too.
const seed = new Random(PICTURE_SEED);
const negative = madeNegative(seed);
const easel = madeEasel(seed);
const filmScanner = { gamma: 1, offset: 0.3 };
const scanned = scannedNegative(negative, filmScanner);
const pictureStrip = madePictureStrip(seed, negative, easel, { device: 'flatbed' });

const thread = new WorkThread();
afterAll(async () => {
  await thread.close();
  rmSync(folder, { recursive: true });
});

describe.runIf(pageTestsRun)('on the desk, the scan of a strip', () => {
  let browser: Browser;
  let server: DeskServer;
  beforeAll(async () => {
    const { width, height, codes } = strip;
    const raw = { raw: { width, height, channels: 1 } } as const;
    await sharp(codes, raw).toColourspace('srgb').png().toFile(scan);
    await sharp(codes.fill(240).slice(), raw).toColourspace('srgb').png().toFile(blank);
    await sharp(scanned.samples, { raw: { width: scanned.width, height: scanned.height, channels: 1 } })
      .toColourspace('grey16')
      .png()
      .toFile(film);
    await sharp(pictureStrip.codes, {
      raw: { width: pictureStrip.width, height: pictureStrip.height, channels: 1 },
    })
      .toColourspace('srgb')
      .png()
      .toFile(ofPicture);
    await printIntoArchive(archive, demo, async (printer) => {
      for (const { dosesMs } of [strip, pictureStrip])
        await printer.exposeStrip({
          ...{ firstMs: dosesMs[0]!, stepStops120: 60, stepMs: 0, patches: dosesMs.length },
          ...{ cover: 'cumulative', filter: '' },
        });
      await printer.exposeStrip({
        ...{ firstMs: strip.dosesMs[0]!, stepStops120: 60, stepMs: 0, patches: strip.dosesMs.length },
        ...{ cover: 'cumulative', filter: '3' },
      });
    });
    const scans = new KeptScan(archive);
    [browser, server] = await Promise.all([
      launchChromium(),
      openDeskServer([
        nightsRoom(archive),
        papersRoom(archive, thread),
        scanRoom(scans),
        stripRoom(archive, thread, scans),
        printsRoom({ archive, folder }),
      ]),
    ]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });

  /** The night of the strips. */
  async function openNight(which: 'first' | 'last' = 'first') {
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The nights' }).click();
    await page.getByRole('button', { name: /5 March 2027/ }).click();
    return { page, finish, sheet: page.getByRole('region', { name: /^Scan of sheet/ })[which]() };
  }

  it('laid on its sheet gives the base, which goes to the print on the desk; edges are put right by keys', async () => {
    const { page, sheet, finish } = await openNight();
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
    const after = before + Math.round(strip.width / 400);
    await expect.poll(async () => Number(await edge.getAttribute('aria-valuenow'))).toBe(after);
    const again = sheet.getByRole('button', { name: 'Read it by these edges' });
    await again.click();
    await expect.poll(() => again.isDisabled()).toBe(true);
    expect(Number(await edge.getAttribute('aria-valuenow'))).toBe(after);
    await take.click();
    await page.getByText(/ s is the base of '.*' on the desk\./).waitFor();
    // What the paper answered stays known of it, once.
    await sheet.getByLabel('keep it for paper').fill('Pearl');
    await sheet.getByLabel('in developer').fill('print 1:9');
    // The log names no filter, which is not yet that there was none.
    const filter = sheet.getByLabel('through filter');
    expect(await filter.inputValue()).toBe('');
    const offered = await filter.evaluate((field: HTMLInputElement) =>
      [...field.list!.options].map(({ value }) => value),
    );
    expect(offered).toEqual(expect.arrayContaining(['none', '2 1/2']));
    const keep = sheet.getByRole('button', { name: "Keep it in the paper's profile" });
    expect(await keep.isDisabled()).toBe(true);
    await filter.fill('2.5');
    await keep.click();
    await sheet
      .getByText(
        /^Kept\. On Pearl in print 1:9, version 1 of its profile; .* filter 2 1\/2: R\d+, measured by 1 strip/,
      )
      .waitFor();
    await lookAt(page, 'strip-kept');
    expect(await findBarriers(page)).toEqual([]);
    await finish();
  });

  it('tells the base for a grey of the scan that is clicked, or given by its pixels', async () => {
    const { page, sheet, finish } = await openNight();
    await sheet.locator('input[type=file]').setInputFiles(scan);
    await sheet.getByRole('cell', { name: '0.60 above paper white' }).waitFor();
    const tone = sheet.getByLabel('the base for');
    await tone.selectOption('a grey in the scan, pointed at');
    const patch = [4, 5].map((at) => strip.edgesPx[at]!);
    const x = (patch[0]! + patch[1]!) / 2;
    const picture = sheet.getByRole('img', { name: 'The scan of the strip' });
    await picture.scrollIntoViewIfNeeded();
    const box = (await picture.boundingBox())!;
    await page.mouse.click(box.x + (x / strip.width) * box.width, box.y + box.height / 2);
    const toneOf = async () => Number((await cell.textContent())!.slice(0, 4));
    const cell = sheet.getByRole('cell', { name: /^(?!0\.60)\d\.\d\d above paper white/ });
    await cell.waitFor();
    const clicked = await toneOf();
    const given = sheet.getByLabel(/its pixels from left and top/);
    expect(await given.inputValue()).toMatch(/^\d+,\d+$/);
    await lookAt(page, 'strip-grey');
    expect(await findBarriers(page)).toEqual([]);
    await given.fill('1,1');
    await given.press('Enter');
    await sheet.getByText(/^Not read: at the place whose tone is meant there is no even grey/).waitFor();
    await given.fill(`${Math.round(x)},${Math.round(strip.height / 2)}`);
    await given.press('Enter');
    await cell.waitFor();
    expect(Math.abs((await toneOf()) - clicked)).toBeLessThan(0.03);
    // Edges that a person placed outlast a place without a grey.
    const edge = sheet.getByRole('slider', { name: 'edge 3' });
    await edge.press('ArrowRight');
    const placedPx = await edge.getAttribute('aria-valuenow');
    const asked = page.waitForResponse(/api\/strip/);
    await sheet.getByRole('button', { name: 'Read it by these edges' }).click();
    await asked;
    await cell.waitFor();
    await given.fill('1,1');
    await given.press('Enter');
    await sheet.getByText(/^Not read: at the place/).waitFor();
    expect(await edge.getAttribute('aria-valuenow')).toBe(placedPx);
    // Its place is none of another scan.
    const other = join(folder, 'strip-again.png');
    copyFileSync(scan, other);
    await sheet.locator('input[type=file]').setInputFiles(other);
    await sheet.getByRole('cell', { name: '0.60 above paper white' }).waitFor();
    expect(await tone.inputValue()).toBe('0.6');
    await finish();
  });

  // The second scan was not read, and its name stood beside the figures of the first.
  it('that comes while another is read is said to be next, and is read then; so is a tone that is chosen meanwhile', async () => {
    const { page, sheet, finish } = await openNight();
    const first = await answeredLate(page, 'POST', /api\/strip/);
    await sheet.locator('input[type=file]').setInputFiles(blank);
    await first.asked;
    await sheet.locator('input[type=file]').setInputFiles(scan);
    await sheet.getByText('Reading blank.png ...; then strip.png').waitFor();
    first.answer();
    await sheet.getByRole('cell', { name: '0.60 above paper white' }).waitFor();
    await page.unroute(/api\/strip/);
    const again = await answeredLate(page, 'POST', /api\/strip/);
    const tone = sheet.getByLabel('the base for');
    await tone.selectOption('zone 4');
    await again.asked;
    await tone.selectOption('zone 6');
    again.answer();
    await sheet.getByRole('cell', { name: '0.53 above paper white' }).waitFor();
    await finish();
  });

  it('that is none leaves what was read of another, and says of which', async () => {
    const { page, sheet, finish } = await openNight();
    await sheet.locator('input[type=file]').setInputFiles(scan);
    await sheet.getByRole('cell', { name: '0.60 above paper white' }).waitFor();
    await page.route(/api\/strip/, (route) => route.fulfill({ body: 'no strip' }), {
      times: 1,
    });
    await sheet.locator('input[type=file]').setInputFiles(blank);
    await sheet.getByText('What stands below is of strip.png.').waitFor();
    expect(await findBarriers(page)).toEqual([]);
    const asked = page.waitForRequest(/api\/strip/);
    await sheet.getByLabel('the base for').selectOption('zone 6');
    expect(new URL((await asked).url()).searchParams.get('name')).toBe('strip.png');
    await sheet.getByRole('cell', { name: '0.53 above paper white' }).waitFor();
    await finish();
  });

  /** Asks for the strip that is so many sheets into the night. */
  const askOf = async (sheet: number, more: Record<string, string>, file = scan) => {
    await using reader = await readArchive(archive);
    const night = '2027-03-05';
    const { board, log, boot, seq } = (await readNight(reader, loadPlanner(), { night })).sheets[sheet]!
      .sheet;
    const place = { night, board, log: `${log}`, boot: `${boot}`, seq: `${seq}` };
    return stripRoom(archive, thread)['/api/strip']!.POST!.answer({
      body: new Uint8Array(),
      gone: new AbortController().signal,
      file,
      query: new URLSearchParams({ ...place, name: 'strip.png', tone: '0.6', ...more }),
    });
  };
  const ask = (more: Record<string, string>, file = scan) => askOf(0, more, file);
  const filtersOf = async (paper: string) => {
    await using reader = await readArchive(archive);
    return (await reader.paperReadings(paper)).map(({ body }) => (body as KeptStripReading).filter);
  };

  it('is kept once in a profile, and only where it was read', async () => {
    await ask({ paper: 'Matt', developer: '', filter: '2' });
    for (const filter of ['2', '3', 'none'])
      await expect(ask({ paper: 'matt', developer: '', filter })).rejects.toThrow(
        /strip 1 of the profile, read before/,
      );
    await expect(ask({ paper: 'Pea\nrl', filter: '2' })).rejects.toThrow(/^paper: write 1 to 80 letters/);
    await expect(ask({ paper: 'Velvet', filter: '2' }, blank)).rejects.toThrow(/put its edges right first/);
    await using reader = await readArchive(archive);
    const papers = (await reader.paperReadings()).map(({ paper }) => paper);
    expect(papers.filter((paper) => paper !== 'Pearl')).toEqual(['Matt']);
  });

  // Taken for 'no filter', it was measured on a filter that it never saw.
  it('goes into a profile through the filter that a person says, where the log names none', async () => {
    for (const more of [{}, { filter: '' }, { filter: ' ' }])
      await expect(ask({ paper: 'Satin', ...more })).rejects.toThrow(
        /^filter: say through what the strip was exposed, such as 2, or 'none'$/,
      );
    await expect(ask({ paper: 'Satin', filter: 'magenta 130' })).rejects.toThrow(
      /^filter: 'magenta 130' is no filter: write at most 8 letters, such as 2 1\/2, or 'none'$/,
    );
    const typed = await treadleHere(['paper', 'add', 'Satin', scan, '--sheet', '1', '--archive', archive]);
    expect(typed).toMatchObject({
      code: 2,
      err: expect.stringMatching(/--filter: say through what the strip was exposed/),
    });
    expect(await filtersOf('Satin')).toEqual([]);
    await ask({ paper: 'Satin', filter: 'none' });
    expect(await filtersOf('Satin')).toEqual(['']);
    await ask({ paper: 'Linen', filter: '2\u00bd' });
    expect(await filtersOf('Linen')).toEqual(['2 1/2']);
  });

  it('goes into a profile through the filter that the log names, which the page shows and does not ask', async () => {
    const { sheet, finish } = await openNight('last');
    await sheet.locator('input[type=file]').setInputFiles(scan);
    await sheet.getByLabel('keep it for paper').fill('Rag');
    await sheet.getByText('through filter 3, as the log has it').waitFor();
    expect(await sheet.getByLabel('through filter').count()).toBe(0);
    await sheet.getByRole('button', { name: "Keep it in the paper's profile" }).click();
    await sheet.getByText(/^Kept\. On Rag, version 1 of its profile; .* filter 3: R\d+/).waitFor();
    expect(await filtersOf('Rag')).toEqual(['3']);
    await finish();
  });

  // With the same light in words, and not as a sheet of the log: what is the same is the picture.
  it('that the command kept before, through whatever filter, is not kept once more', async () => {
    const step = ['--step', '1/2', '--patches', `${strip.dosesMs.length}`];
    const kept = await treadleHere([
      ...['paper', 'add', 'Baryta', scan, '--first', `${strip.dosesMs[0]}ms`, ...step],
      ...['--filter', '2', '--archive', archive],
    ]);
    expect(kept).toMatchObject({ code: 0 });
    await expect(ask({ paper: 'Baryta', filter: '3' })).rejects.toThrow(
      /strip 1 of the profile, read before \(strip\.png\).*treadle paper leave-out "Baryta" 1$/,
    );
    expect(await filtersOf('Baryta')).toEqual(['2']);
  });

  // A printer who tests on the picture itself has no flat patches. Costs 4 s, of which the search on the negative takes most.
  it('of a picture is read against the scan that lies there; base and what ties film to light go to the print', async () => {
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('region', { name: 'The scan' }).locator('input[type=file]').setInputFiles(film);
    await page.getByText('Negative: boathouse.png').waitFor();
    await page.getByRole('button', { name: 'The nights' }).click();
    await page.getByRole('button', { name: /5 March 2027/ }).click();
    const sheet = page.getByRole('region', { name: /^Scan of sheet/ }).nth(1);
    await sheet.locator('input[type=file]').setInputFiles(ofPicture);
    await sheet.getByRole('button', { name: 'It has a picture: read it against boathouse.png' }).click();
    await sheet.getByText("Read against boathouse.png, the negative's scan on the desk.").waitFor();
    await lookAt(page, 'strip-on-negative');
    expect(await findBarriers(page)).toEqual([]);
    const take = sheet.getByRole('button', { name: /^Make .* s the base of the print/ });
    const baseMs = 1000 * Number.parseFloat((await take.textContent())!.slice(5));
    const kept = page.waitForRequest(
      (request) =>
        request.url().includes('/api/prints/draft') && (request.postData() ?? '').includes('filmTie'),
    );
    expect(await take.isDisabled()).toBe(true);
    const filter = sheet.getByLabel('through filter');
    await filter.fill('magenta 130');
    await take.click();
    await page.getByText("through filter: 'magenta 130' is no filter").waitFor();
    await filter.fill('2');
    await take.click();
    await page.getByText(/ s is the base of '.*' on the desk\./).waitFor();
    const { recipe } = JSON.parse((await kept).postData()!);
    expect(Math.abs(Math.log2(recipe.baseMs / baseMs))).toBeLessThan(0.01);
    expect(recipe.filmTie).toMatchObject({ filter: '2' });
    expect(await page.getByText(/is no filter/).count()).toBe(0);
    const truth = Math.log2(recipe.baseMs) - baseStops(negative, easel, filmScanner, scanned);
    expect(Math.abs(truth)).toBeLessThan(0.1);
    await finish();
  });
});

it('on the desk the print comes out as in a preview, by what its strip told of film and light', () => {
  const filmTie = {
    ...{ contrast: 1.2, contrastSpread: 0.03, flareShare: 0.03, flareSpread: 0.01, filter: '' },
    ...{ speedMs: 900, filmLog: -1, meanLight: 0.1, lightSpreadStops: 0.05 },
  };
  const recipe = { ...demo, filmTie };
  const print = { recipe, plan: loadPlanner().planRecipe(recipe) };
  const maker = new PrintMaker();
  maker.lay(scanned);
  const look = { size: 'full', ink: 'white', marked: false, which: 'worked-on' } as const;
  const greysOf = (right: typeof print | { recipe: typeof demo; plan: typeof print.plan }) =>
    new Uint8Array(maker.picture({ print, right, ...look }).buffer).filter((_, at) => at % 4 === 0);
  const byTie = previewPrint(recipe, print.plan, {
    negative: tied(scanned, filmTie),
    paper: new Paper(commonPaper),
  });
  expect(greysOf(print)).toEqual(new Uint8Array(byTie.picture.pixels));
  expect(greysOf({ recipe: demo, plan: print.plan })).not.toEqual(greysOf(print));
  expect(maker.densitiesAt(50, 50)!.negative).toBeCloseTo(
    -scanned.logTransmittance[scanned.samples[(scanned.height / 2) * scanned.width + scanned.width / 2]!]!,
  );
});

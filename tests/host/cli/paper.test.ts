import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPaper } from '../../../host/darkroom/paper/paper-file.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { Random } from '../../setup/random.js';
import { madeStrip } from '../darkroom/reading/made-strip.js';
import { treadleHere } from './in-this-process.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-paper-'));
const archive = join(folder, 'archive.db');
const scan = join(folder, 'strip.png');
const strip = madeStrip(new Random(7), { device: 'flatbed' });
/** Of the same paper, told from the first by its tones. */
const secondScan = join(folder, 'second.png');
const thirdScan = join(folder, 'third.png');
const told = ['--first', `${strip.dosesMs[0]}ms`, '--step', '1/2', '--patches', `${strip.dosesMs.length}`];

beforeAll(async () => {
  const { width, height, codes } = strip;
  const lighterBy = (by: number) => codes.map((code) => Math.min(code + by, 250));
  for (const [path, each] of [
    [scan, codes],
    [secondScan, lighterBy(1)],
    [thirdScan, lighterBy(2)],
  ] as const)
    await sharp(each, { raw: { width, height, channels: 1 } })
      .toColourspace('srgb')
      .png()
      .toFile(path);
});
afterAll(() => rmSync(folder, { recursive: true }));

const paper = (...words: string[]) => treadleHere(['paper', ...words, '--archive', archive]);

describe('treadle paper', () => {
  it('reads a strip into the profile of its paper, and shows it with a chart', async () => {
    const added = await paper('add', 'Pearl', scan, ...told, '--filter', '2', '--developer', 'print 1:9');
    expect(added.err).toBe('');
    expect(added.out).toMatch(/^Pearl in print 1:9, version 1 of its profile\n/);
    const chart = join(folder, 'chart.png');
    const shown = await paper('Pearl', '--chart', chart, '--json');
    const { developer, filters, strips } = JSON.parse(shown.out);
    expect(developer).toBe('print 1:9');
    expect(filters[0].filter).toBe('2');
    expect(filters[0].rangeR.low).toBeLessThan(strip.rangeR);
    expect(filters[0].rangeR.high).toBeGreaterThan(strip.rangeR);
    expect(strips[0]).toMatchObject({ number: 1, state: 'taken', scan: 'strip.png', device: 'flatbed' });
    expect(readFileSync(chart).subarray(1, 4).toString()).toBe('PNG');
    const drawn = join(folder, 'chart.SVG');
    expect(await paper('Pearl', '--chart', drawn)).toMatchObject({ code: 0 });
    expect(readFileSync(drawn, 'utf8')).toMatch(/^<svg /);
    const odd = join(folder, 'chart.jpg');
    const refused = await paper('Pearl', '--chart', odd);
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toContain(`--chart: '${odd}' ends neither in .png nor in .svg`);
    expect(existsSync(odd)).toBe(false);
  });

  // Taken for the wet scan, a strip through another filter made the range a quarter shorter, without a word.
  it('takes no scan of another strip for the same one wet', async () => {
    const dosesMs = strip.dosesMs;
    const { width, height, codes } = madeStrip(new Random(9), { device: 'flatbed', dosesMs, rangeR: 175 });
    const another = join(folder, 'another.png');
    await sharp(codes, { raw: { width, height, channels: 1 } })
      .toColourspace('srgb')
      .png()
      .toFile(another);
    const words = ['add', 'Velvet', scan, ...told, '--filter', '2', '--wet'];
    const refused = await paper(...words, another);
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toMatch(/^treadle: --wet: .*another\.png is not .*strip\.png wet: .*leave --wet out/);
    expect(await paper(...words, secondScan)).toMatchObject({ code: 0, err: '' });
    await paper('leave-out', 'Velvet', '1');
  });

  it('says what there is when a paper is asked for that was never read', async () => {
    const ran = await paper('show', 'Matt');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain("nothing was read of 'Matt'; there is Pearl in print 1:9");
  });

  it('says of a strip that is slower than two others what the usual reason is', async () => {
    const slower = told.with(1, `${(2 * strip.dosesMs[0]!) / 1000}s`);
    const words = ['--filter', '2', '--developer', 'slow'];
    for (const [path, each] of [
      [scan, told],
      [secondScan, told],
      [thirdScan, slower],
    ] as const)
      expect((await paper('add', 'Chalk', path, ...each, ...words)).err).toBe('');
    const { out } = await paper('show', 'Chalk');
    expect(out).toMatch(
      /Strip 3 does not go with the others: it is 1\.0\d stop slower .*not in the figures\. .*--light/s,
    );
    for (const number of ['1', '2', '3']) await paper('leave-out', 'Chalk', number);
  });

  it('leaves a strip out, takes it in again, and lists each version', async () => {
    await paper('add', 'Pearl', secondScan, ...told, '--filter', '2');
    const without = JSON.parse((await paper('leave-out', 'Pearl', '2', '--json')).out);
    expect(without).toMatchObject({ version: 3, filters: [{ filter: '2', strips: [1] }] });
    await paper('take-in', 'Pearl', '2');
    const versions = await paper('versions', 'Pearl');
    expect(versions.out).toMatch(
      /1 .* strip 1, filter 2, from strip\.png\n.*\n.*3 .* strip 2 left out\n.*4 .* strip 2 taken in again/,
    );
    const then = JSON.parse((await paper('show', 'Pearl', '--as-of', '3', '--json')).out);
    expect(then).toEqual({ ...without, versions: 4 });
    expect((await paper('show', 'Pearl', '--as-of', '9')).err).toContain('--as-of: there are 4 versions');
    expect((await paper('leave-out', 'Pearl', '7')).code).toBe(2);
  });

  it('does not list a paper any more whose strips are all left out, and does once one is taken in', async () => {
    const listed = async () =>
      JSON.parse((await paper('--json')).out).map((each: { paper: string }) => each.paper);
    const before = await listed();
    expect(await paper('add', 'Perl', secondScan, ...told, '--filter', '2')).toMatchObject({ code: 0 });
    expect(await listed()).toEqual([...before, 'Perl']);
    const left = await paper('leave-out', 'perl', '1');
    expect(left).toMatchObject({ code: 0, out: '' });
    expect(left.err).toContain('Every strip of Perl is left out');
    expect(await listed()).toEqual(before);
    const shown = await paper('show', 'Perl');
    expect(shown).toMatchObject({ code: 2 });
    expect(shown.err).toContain("every strip of 'Perl' is left out; 'treadle paper take-in'");
    await paper('take-in', 'Perl', '1');
    expect(await listed()).toEqual([...before, 'Perl']);
    await paper('leave-out', 'Perl', '1');
  });

  it('writes the paper file that other commands take', async () => {
    const file = join(folder, 'pearl.json');
    const unmetered = await paper('export', 'Pearl', '-o', file);
    expect(unmetered).toMatchObject({ code: 0, out: '' });
    expect(unmetered.err).toContain('none of them is an ISO speed');
    const { name, filters } = readPaper(readFileSync(file));
    expect(name).toBe('Pearl');
    expect(Math.abs(filters['2']!.rangeR / strip.rangeR - 1)).toBeLessThan(0.12);
    expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({ developer: 'print 1:9' });
    expect((await paper('export', 'Pearl', '-o', file)).err).toContain('add --force');
    // It made a file that is called '-', which hardly any command can name again.
    expect((await paper('export', 'Pearl', '-o', '-')).err).toContain("--output: '-' is no file");
  });

  it('says what is wrong with what was typed', async () => {
    const tablet = await paper('add', 'Pearl', scan, '--tablet', '21x0.15', '--filter', '2');
    expect(tablet).toMatchObject({ code: 2, out: '' });
    expect(tablet.err).toContain('--tablet needs --exposure');
    const lux = await paper('add', 'Pearl', scan, ...told, '--filter', '2', '--lux', 'bright');
    expect(lux.err).toContain("--lux: 'bright' is not a light in lux");
    const none = await paper('add', 'Pearl', scan, ...told);
    expect(none.err).toContain('--filter: say through what the strip was exposed');
  });

  // One sheet read again and again was a surer figure each time, and through another filter a factor of 1.00.
  it('counts a strip once, whatever filter is said, unless the first reading is left out', async () => {
    const again = await paper('add', 'Pearl', scan, ...told, '--filter', '5');
    expect(again).toMatchObject({ code: 2, out: '' });
    expect(again.err).toContain('this is strip 1 of the profile, read before (strip.png)');
    expect(again.err).toContain('treadle paper leave-out "Pearl" 1');
  });

  it('takes large and small letters for one paper, and tells of strips that are kept apart by the developer', async () => {
    const other = join(folder, 'names.db');
    const words = (...more: string[]) => treadleHere(['paper', ...more, '--archive', other]);
    await words('add', 'Pearl', scan, ...told, '--filter', '2');
    const small = await words('add', 'pearl', secondScan, ...told, '--filter', '2');
    expect(small.out).toMatch(/^Pearl, version 2 of its profile/);
    const apart = await words('add', 'Pearl', scan, ...told, '--filter', '2', '--developer', 'print 1:9');
    expect(apart.err).toContain('Strips of Pearl that were read without --developer are a profile');
  });

  // What was taken here was refused by the commands that read the paper's file.
  it.each([
    ['a long name', ['add', 'P'.repeat(81), scan, '--filter', '2'], '<paper>'],
    ['a name that steers the terminal', ['add', 'Pearl\u001b[2J', scan, '--filter', '2'], '<paper>'],
    ['a long filter', ['add', 'Pearl', scan, '--filter', 'magenta 130'], '--filter'],
    [
      'a developer of two lines',
      ['add', 'Pearl', scan, '--filter', '2', '--developer', 'one\ntwo'],
      '--developer',
    ],
    ['light that no enlarger has', ['add', 'Pearl', scan, '--filter', '2', '--lux', '0.001'], '--lux'],
  ])('does not take %s', async (_what, words, names) => {
    const ran = await paper(...words, ...told);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain(`${names}: `);
  });

  // The heading and the heads of columns had what was kept as it was.
  it('does not let names of papers and filters out of an archive steer the terminal', async () => {
    const kept = await openArchive(archive);
    const [row] = await kept.paperReadings('Pearl');
    const body = { ...(row!.body as object), filter: '2\u202e' };
    await kept.addPaperReading({ paper: 'Pearl\u001b[2J', developer: '', body });
    await kept[Symbol.asyncDispose]();
    const picture = join(folder, 'evil.png');
    const evil = await paper('Pearl\u001b[2J', '--chart', picture);
    expect(evil.out).toContain('Pearl\ufffd[2J');
    expect(evil.out).not.toContain('\u001b');
    expect(evil.out).not.toContain('\u202e');
  });

  // Strips behind a damaged one took its number, so that another was left out than was meant.
  it('keeps the numbers of strips behind a damaged one, and says that there is one', async () => {
    const other = join(folder, 'damaged.db');
    const words = (...more: string[]) => treadleHere(['paper', ...more, '--archive', other]);
    await words('add', 'Pearl', scan, ...told, '--filter', '2');
    await words('add', 'Pearl', secondScan, ...told, '--filter', '2');
    const file = new Database(other);
    file.prepare("UPDATE paper_reading SET body = 'rotten' WHERE id = 1").run();
    file.close();
    const { out } = await words('show', 'Pearl');
    expect(out).toContain('1 reading of the archive cannot be read');
    const { strips, unreadable } = JSON.parse((await words('show', 'Pearl', '--json')).out);
    expect(strips).toMatchObject([{ number: 2, scan: 'second.png' }]);
    expect(unreadable).toBe(1);
  });
});

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readRecipe } from '../../../host/recipe/index.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { listOf } from '../../setup/list-of.js';
import { printIntoArchive } from '../records/again/print-into-archive.js';
import { treadle } from './treadle.js';

const demo = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
const folder = mkdtempSync(join(tmpdir(), 'treadle-remarks-'));
const archive = join(folder, 'archive.sqlite');

/** Two prints by one recipe, of which the dry ones were not alike; then another content under its number. */
beforeAll(() =>
  printIntoArchive(archive, demo, async (printer, file) => {
    await printer.print('boathouse');
    await printer.print('boathouse', { pushes: 1, clicks: 3 });
    await file.keepRecipe({ ...demo, baseMs: 9000 }, printer.pair.board.id);
  }),
);
afterAll(() => rmSync(folder, { recursive: true }));

// A rating could be given to a recipe's version only: of three prints of one version nobody knew afterwards which was the good one.
describe('a remark on one sheet', () => {
  const run = (...words: string[]) => treadle([...words, '--archive', archive]);
  beforeAll(async () => {
    const first = await run('remark', '2027-03-05/2', '--rating', '4', 'sky', '<a sixth> less');
    expect(first).toMatchObject({ code: 0 });
    expect(first.err).toContain("Noted for sheet 2 of 2027-03-05, 'boathouse' version 1.");
    expect(await run('remark', '2', 'for the wall')).toMatchObject({ code: 0 });
  });

  it('is kept with that sheet, and with the content it was printed from', async () => {
    await using file = await openArchive(archive);
    const [printed] = await file.recipes('boathouse');
    const remarks = await file.remarks();
    expect(remarks.map(({ words }) => words)).toEqual(['sky <a sixth> less', 'for the wall']);
    const begun = (await listOf(file.records())).filter(({ type }) => type === 'sheet');
    const { board, log, boot, seq } = begun[1]!;
    for (const { content, sheet } of remarks) {
      expect(content).toBe(printed!.content);
      expect(sheet).toEqual({ board, log, boot, seq });
    }
  });

  it('stands below that sheet in the night, and below no other', async () => {
    const { out } = await run('nights', '--night', 'last');
    expect(out).toMatch(/ sheet 2: .*\n +rated 4: sky <a sixth> less\n +remark: for the wall\n/);
    expect(out.match(/rated 4/g)).toHaveLength(1);
  });

  it('stands on its page, as text', async () => {
    const page = join(folder, 'night.html');
    expect(await run('nights', '--night', 'last', '--html', page)).toMatchObject({ code: 0 });
    const text = readFileSync(page, 'utf8');
    expect(text.match(/rated 4: sky &lt;a sixth&gt; less; remark: for the wall/g)).toHaveLength(1);
    expect(text.indexOf('rated 4')).toBeGreaterThan(text.lastIndexOf('sheet 2: boathouse'));
  });

  it('stands in the spreadsheet and in JSON', async () => {
    const csv = (await run('nights', '--csv')).out.split('\r\n');
    expect(csv[0]).toMatch(/,rating,remark,board name$/);
    expect(
      csv.filter((line) => /,4,sky <a sixth> less; for the wall,$|,4,"sky .* wall",$/.test(line)),
    ).toHaveLength(1);
    const entries = (await run('nights', '--json')).out.trim().split('\n');
    const told = entries.map((line) => JSON.parse(line)).filter(({ remarks }) => remarks !== undefined);
    expect(told).toMatchObject([
      {
        kind: 'sheet',
        details: { sheet: 2 },
        remarks: [{ rating: 4 }, { rating: null, words: 'for the wall' }],
      },
    ]);
  });

  it('stands beside what is compared', async () => {
    const ran = await run('compare', '1', '2');
    expect(ran.out).toMatch(/^2: rated 4: sky <a sixth> less\n2: remark: for the wall$/m);
    expect(ran.out).not.toMatch(/^1: /m);
    const { remarks } = JSON.parse((await run('compare', '1', '2', '--json')).out);
    expect(remarks).toMatchObject({ first: [], second: [{ rating: 4 }, { words: 'for the wall' }] });
  });

  it('stands with its version among the recipes', async () => {
    const listed = JSON.parse((await run('recipes', '--json')).out) as {
      recipe: { baseMs: number };
      remarks: unknown[];
    }[];
    expect(listed.map(({ recipe, remarks }) => [recipe.baseMs, remarks.length])).toEqual([
      [demo.baseMs, 2],
      [9000, 0],
    ]);
  });

  it.each([
    [['9', 'x'], /there is no sheet 9 in the night of 2027-03-05, but 1, 2/],
    [['Thursday', 'x'], /no recipe 'Thursday'.*a sheet is written 2027-03-05\/7/s],
  ])('of %j says what there is instead', async (words, message) => {
    const ran = await run('remark', ...words);
    expect(ran).toMatchObject({ code: 2 });
    expect(ran.err).toMatch(message);
  });

  it('of a recipe that is called like a sheet asks which is meant', async () => {
    const own = join(folder, 'alike.sqlite');
    {
      await using file = await openArchive(own);
      await file.keepRecipe({ ...demo, name: '7' }, 'b1');
    }
    const ran = await treadle(['remark', '7', 'fine', '--archive', own]);
    expect(ran).toMatchObject({ code: 2 });
    expect(ran.err).toMatch(/for the recipe add --of VERSION, for the sheet write last\/7/);
    expect(await treadle(['remark', '7', 'fine', '--of', '1', '--archive', own])).toMatchObject({ code: 0 });
  });
});

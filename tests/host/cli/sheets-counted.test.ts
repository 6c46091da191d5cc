import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterAll, describe, expect, it } from 'vitest';
import { readRecipe } from '../../../host/recipe/index.js';
import { collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { type LogEntry, logEntries } from '../../../host/records/log/log-entry.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { listOf } from '../../setup/list-of.js';
import { type Disturbances, Printer } from '../records/again/printer.js';
import { treadle } from './treadle.js';

const demo = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
const folder = mkdtempSync(join(tmpdir(), 'treadle-counted-'));
afterAll(() => rmSync(folder, { recursive: true }));

interface Counts {
  readonly prints: number;
  readonly wasted: number;
}

/** An evening of these sheets and a whole one behind them; then all that was logged is collected. */
async function evening(name: string, sheets: readonly Disturbances[]) {
  const archive = join(folder, `${name}.sqlite`);
  const printer = new Printer();
  const file = await openArchive(archive, printer.pair.clock);
  await printer.setUp([demo]);
  for (const disturbances of [...sheets, {}]) await printer.print('boathouse', disturbances);
  const board = await printer.pair.open();
  await printer.pair.over(collectIntoArchive(file, board));
  await board.close();
  const entries = await listOf(logEntries(file.records()));
  await file.close();
  return { archive, entries };
}

/** What the board itself counted, start by start, and the sheets whose end it never knew of. */
function boardCounts(entries: readonly LogEntry[]): Counts {
  const runs = new Map<number, Counts>();
  let isOpen = false;
  let unknown = 0;
  for (const entry of entries) {
    if (entry.kind === 'sheet' && isOpen) unknown++;
    if (entry.kind === 'sheet') isOpen = true;
    if (entry.kind === 'sheet-unused') isOpen = false;
    if (entry.kind !== 'sheet-ended' && entry.kind !== 'sheet-resumed') continue;
    runs.set(entry.boot, entry.details);
    isOpen = entry.kind === 'sheet-resumed';
  }
  const all = [...runs.values()];
  return {
    prints: all.reduce((sum, { prints }) => sum + prints, 0),
    wasted: all.reduce((sum, { wasted }) => sum + wasted, unknown),
  };
}

/** The line that begins with the prints. */
function inWords(text: string): Counts {
  const [line = '', prints = ''] = /^(?:<p>)?(\d+) prints?, .*$/m.exec(text) ?? [];
  const [, wasted = '0'] = /(\d+) sheets? wasted/.exec(line) ?? [];
  return { prints: Number(prints), wasted: Number(wasted) };
}

/** In a spreadsheet: the last outcome of each sheet. */
function inCells(csv: string): Counts {
  const [heads, ...rows] = csv
    .trim()
    .split('\r\n')
    .map((line) => line.split(','));
  const cell = (row: readonly string[], name: string) => row[heads!.indexOf(name)]!;
  // A sheet's end may come after the power, in another start of the board.
  const sheets: { number: string; outcome: string }[] = [];
  for (const row of rows) {
    const what = cell(row, 'what');
    if (!['sheet', 'sheet-resumed', 'sheet-ended', 'sheet-unused'].includes(what)) continue;
    const [number, outcome] = [cell(row, 'sheet'), cell(row, 'outcome')];
    const at = sheets.findLastIndex((sheet) => sheet.number === number);
    if (what === 'sheet') sheets.push({ number, outcome });
    else if (what === 'sheet-unused') sheets.splice(at, 1);
    else sheets[at] = { number, outcome };
  }
  const all = sheets.map(({ outcome }) => outcome);
  const prints = all.filter((outcome) => outcome === 'complete').length;
  return { prints, wasted: all.length - prints };
}

// A print whose power went between two passes, each of them given whole, was a print on the laptop: nobody had said otherwise.
describe('sheets are counted alike by the board, in the night, on its page and in a spreadsheet,', () => {
  it.each<[string, readonly Disturbances[], Counts]>([
    ['finished', [{}], { prints: 2, wasted: 0 }],
    ['given up', [{ givesUpAfterS: 6 }], { prints: 1, wasted: 1 }],
    ['cut by the power in its light', [{ powerFailsAfterS: 6 }], { prints: 1, wasted: 1 }],
    ['cut by the power between two whole passes', [{ powerFailsAfterS: 16.8 }], { prints: 1, wasted: 1 }],
    ['paused', [{ pausesAfterS: 6 }], { prints: 2, wasted: 0 }],
    [
      'ended in each of these ways',
      [{ givesUpAfterS: 6 }, { powerFailsAfterS: 16.8 }, {}, { powerFailsAfterS: 6 }, { pausesAfterS: 6 }],
      { prints: 3, wasted: 3 },
    ],
  ])('one %s', async (name, sheets, expected) => {
    const { archive, entries } = await evening(name.replaceAll(' ', '-'), sheets);
    expect(boardCounts(entries)).toEqual(expected);
    const nights = async (...words: string[]) =>
      (await treadle(['nights', ...words, '--archive', archive])).out;
    expect(inWords(await nights('--night', 'last'))).toEqual(expected);
    const page = join(folder, `${name}.html`);
    await nights('--night', 'last', '--html', page);
    expect(inWords(readFileSync(page, 'utf8'))).toEqual(expected);
    expect(inCells(await nights('--csv'))).toEqual(expected);
  });

  it('also where a board of before logged nothing of a sheet that the power ended, and below it that is said', async () => {
    const { archive } = await evening('of-before', [{ powerFailsAfterS: 16.8 }]);
    const database = new Database(archive);
    const said = "type = 'sheet-ended' AND json_extract(fields, '$[4]') = 'interrupted'";
    expect(database.prepare(`DELETE FROM record WHERE ${said}`).run().changes).toBe(1);
    database.close();
    const nights = async (...words: string[]) =>
      (await treadle(['nights', ...words, '--archive', archive])).out;
    const expected = { prints: 1, wasted: 1 };
    const night = await nights('--night', 'last');
    expect(night).toMatch(/ sheet 1: .*\n +the power went before it was finished\n/);
    expect(inWords(night)).toEqual(expected);
    const page = join(folder, 'of-before.html');
    await nights('--night', 'last', '--html', page);
    expect(inWords(readFileSync(page, 'utf8'))).toEqual(expected);
    expect(inCells(await nights('--csv'))).toEqual(expected);
    const json = (await nights('--json')).trim().split('\n');
    const cut = json.map((line) => JSON.parse(line)).filter(({ endedByPower }) => endedByPower);
    expect(cut).toMatchObject([{ kind: 'sheet', details: { sheet: 1 } }]);
  });
});

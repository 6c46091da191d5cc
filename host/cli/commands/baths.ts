import type { Command } from 'commander';
import type { Board } from '../../board/link/board.js';
import { counted } from '../../figures.js';
import type { Bath, TemperatureTime } from '../../recipe/baths/bath.js';
import {
  formatBathTime,
  formatDegreesC,
  leftOf,
  readTemperatureC10,
  readWholeBaths,
  usualBathsFile,
} from '../../recipe/baths/index.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { BATH_COLUMNS, temperatureTable, timeOr } from '../bath-tables.js';
import { type BoardOptions, withBoard, withBoardThroughLosses } from '../board-session.js';
import { examples, forceOption, jsonOption, outputOption, portOption, traceOption } from '../options.js';
import { readOwnFile } from '../read-own-file.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { bathsThatWait } from '../tray-words.js';
import { UsageError } from '../usage-error.js';
import { writeNewFile } from '../write-new-file.js';

interface ShowOptions extends BoardOptions {
  readonly json?: true;
}

interface UsualOptions {
  readonly output?: string;
  readonly force?: true;
}

export function define(command: Command): void {
  command.helpCommand('help [command]', 'print the help of a command');
  command.addHelpText(
    'after',
    examples(
      'treadle baths',
      'treadle baths usual --output baths.json',
      'treadle baths set baths.json',
      'treadle baths mixed fixer',
      'treadle baths tray 68F',
      'treadle baths first-tone 5',
    ),
  );
  command
    .command('show', { isDefault: true })
    .description('show the baths: times, what went through since each was mixed, and what is left')
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle baths show'))
    .action((options: ShowOptions) => withBoard(options, (board) => show(board, options)));
  command
    .command('set')
    .description('give the board new baths from a file; a bath whose name stays keeps its count')
    .argument('<file>', 'baths file, or - for standard input')
    .addOption(portOption())
    .addOption(traceOption())
    .addHelpText('after', examples('treadle baths set baths.json'))
    .action(set);
  command
    .command('usual')
    .description('write a baths file to start from: common times, until you put in those of your data sheets')
    .addOption(outputOption('file to write; by default it is printed'))
    .addOption(forceOption())
    .addHelpText('after', examples('treadle baths usual --output baths.json'))
    .action(usual);
  command
    .command('mixed')
    .description('say that a bath was mixed fresh, so that its count starts at zero')
    .argument('<bath>', 'name or number of the bath')
    .addOption(portOption())
    .addOption(traceOption())
    .addHelpText('after', examples('treadle baths mixed fixer', 'treadle baths mixed 3'))
    .action(mixed);
  command
    .command('tray')
    .description("tell the tray's temperature, for baths with times by temperature; the knob can tell it too")
    .argument('<temperature>', 'as 20C, 20.5C or 68F; off where it is not measured')
    .addOption(portOption())
    .addOption(traceOption())
    .addHelpText('after', examples('treadle baths tray 20.5C', 'treadle baths tray off'))
    .action(tray);
  command
    .command('first-tone')
    .description(
      'develop by the first tone: a tap when it shows, and the time is so many times that (common practice)',
    )
    .argument('<factor>', '4 to 8, or off')
    .addOption(portOption())
    .addOption(traceOption())
    .addHelpText('after', examples('treadle baths first-tone 5', 'treadle baths first-tone off'))
    .action(firstTone);
}

interface Row {
  readonly baths: readonly Bath[];
  readonly times: readonly TemperatureTime[];
  /** What is in use of them: the tray's temperature, 0 where it is not told; the factor of the first tone. */
  readonly trayC10: number;
  readonly factor: number;
  /** Area of a sheet, for saying areas as sheets. */
  readonly sheetCm2: number;
}

async function rowOf(board: Board): Promise<Row> {
  return {
    baths: await board.allBaths(),
    times: await board.allBathTimes(),
    trayC10: await board.getSetting('tray-c10'),
    factor: await board.getSetting('first-tone-factor'),
    sheetCm2: await board.getSetting('sheet-cm2'),
  };
}

async function show(board: Board, { json }: ShowOptions): Promise<void> {
  const row = await rowOf(board);
  if (json)
    printJson(
      row.baths.map((bath) => ({
        ...bath,
        left: leftOf(bath, row.sheetCm2) ?? null,
        byTemperature: row.times.filter(({ label }) => label === bath.label),
      })),
    );
  else print(wholeRow(row));
}

/** The file is read and checked before the board is disturbed. */
async function set(path: string, options: BoardOptions): Promise<void> {
  const { baths, times } = await readOwnFile(path, '<file>', readWholeBaths);
  await withBoardThroughLosses(options, async (board) => {
    await board.setBaths(baths);
    await board.setBathTimes(times);
    print(wholeRow(await rowOf(board)));
  });
}

async function usual({ output, force }: UsualOptions): Promise<void> {
  const text = usualBathsFile();
  if (output === undefined) process.stdout.write(text);
  else {
    await writeNewFile(output, text, force === true);
    remark(
      `The usual baths are in ${output}. Put in the times of your own chemistry, then run 'treadle baths set ${output}'.`,
    );
  }
}

async function mixed(words: string, options: BoardOptions): Promise<void> {
  const { bath, label, sheets, areaCm2 } = await withBoard(options, async (board) => {
    const meant = bathMeant(words, await board.allBaths());
    await board.renewBath(meant.bath);
    return meant;
  });
  const before = `${counted(sheets, 'sheet')}, ${areaCm2} cm2`;
  remark(cleanText(`Bath ${bath}, ${label}, now starts at zero. ${before} went through the old one.`));
}

async function tray(words: string, options: BoardOptions): Promise<void> {
  const c10 = words.trim() === 'off' ? 0 : temperatureMeant(words);
  const times = await withBoard(options, async (board) => {
    await board.setSetting('tray-c10', c10);
    return await board.allBathTimes();
  });
  if (c10 === 0) remark('The temperature is not told: the times of the row hold.');
  else remark(cleanText([`The tray is at ${formatDegreesC(c10)}.`, ...bathsThatWait(times, c10)].join(' ')));
}

/** @throws UsageError with what can be written. */
function temperatureMeant(words: string): number {
  try {
    return readTemperatureC10(words);
  } catch (error) {
    if (!(error instanceof UnreadableText)) throw error;
    throw new UsageError(`<temperature>: ${error.message}`);
  }
}

async function firstTone(words: string, options: BoardOptions): Promise<void> {
  const factor = words.trim() === 'off' ? 0 : Number(words);
  if (!(factor === 0 && words.trim() === 'off') && !(Number.isInteger(factor) && factor >= 4 && factor <= 8))
    throw new UsageError(`<factor>: '${words}' is not possible; 4, 5, 6, 7, 8 or off are`);
  await withBoard(options, (board) => board.setSetting('first-tone-factor', factor));
  remark(factor === 0 ? 'The first bath goes by the clock.' : toneWords(factor));
}

function toneWords(factor: number): string {
  return `In the first bath tap when the first tone shows: the time is ${factor} times that (common practice, no source).`;
}

/** The table of baths, and below it what else their times go by. */
function wholeRow(row: Row): string {
  const { times, trayC10, factor } = row;
  const below: string[] = [];
  if (times.length > 0) {
    const told = trayC10 === 0 ? 'not told, so the times above hold' : `now ${formatDegreesC(trayC10)}`;
    below.push('', `By the temperature of the tray, ${told}:`, temperatureTable(times));
  }
  if (factor !== 0) below.push('', toneWords(factor));
  return [rowTable(row), ...below].join('\n');
}

/** @throws UsageError unless it is one of them. */
function bathMeant(words: string, row: readonly Bath[]): Bath {
  const wanted = words.trim().toLowerCase();
  const [meant, other] = row.filter(({ label }) => label.toLowerCase() === wanted);
  const found = meant ?? row.find(({ bath }) => String(bath) === wanted);
  if (found !== undefined && other === undefined) return found;
  const list = row.map(({ bath, label }) => `${bath} ${label}`).join(', ');
  const why =
    other === undefined ? 'no bath is called that' : 'several baths are called that; give the number';
  throw new UsageError(`'${words}': ${why}; the baths are ${list}`);
}

function rowTable({ baths, sheetCm2 }: Row): string {
  return table(
    [...BATH_COLUMNS, { head: 'since mixed' }, { head: 'limit' }, { head: 'left' }],
    baths.map((bath) => [
      `${bath.bath}`,
      bath.label,
      timeOr(bath.resinCoatedSeconds, '-'),
      timeOr(bath.fibreSeconds, '-'),
      timeOr(bath.drainSeconds, '-'),
      bath.agitationSeconds === 0 ? '-' : `every ${formatBathTime(bath.agitationSeconds)}`,
      `${counted(bath.sheets, 'sheet')}, ${bath.areaCm2} cm2`,
      bath.limitCm2 === 0 ? '-' : paper(bath.limitCm2, Math.floor(bath.limitCm2 / sheetCm2)),
      leftWords(bath, sheetCm2),
    ]),
  );
}

function leftWords(bath: Bath, sheetCm2: number): string {
  const left = leftOf(bath, sheetCm2);
  if (left === undefined) return '';
  if (left.overCm2 > 0) return `used up, ${left.overCm2} cm2 too many`;
  return left.sheets === 0 ? 'used up' : paper(left.cm2, left.sheets);
}

/** An area, and how many sheets of the board's size that is. */
function paper(cm2: number, sheets: number): string {
  return `${counted(sheets, 'sheet')}, ${cm2} cm2`;
}

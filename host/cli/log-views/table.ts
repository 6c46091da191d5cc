import { counted, duration, seconds } from '../../figures.js';
import {
  isSheetMark,
  type NightRow,
  noTotals,
  RowsInTurn,
  totalsWith,
} from '../../pages/night/night-rows.js';
import { eventWords, isMixed } from '../../records/log/event-words.js';
import { type ExposureEntry, isExposure, type LogEntry } from '../../records/log/log-entry.js';
import { noteLines } from '../../records/log/sheet-notes.js';
import { table } from '../terminal/table.js';
import { localTime } from './local-time.js';
import { PrintChanges } from './print-changes.js';

/** Entries whose columns are lined up with each other; a long night comes in several of these. */
const BLOCK = 1000;

/** A night for people: its heading, a line for each thing that happened, and what it came to. */
export async function* nightLines(
  night: string | null,
  entries: AsyncIterable<LogEntry> | Iterable<LogEntry>,
): AsyncGenerator<string> {
  const tally = new NightTally();
  let block: LogEntry[] = [];
  let blocks = 0;
  for await (const entry of entries) {
    tally.add(entry);
    if (block.push(entry) < BLOCK) continue;
    yield blockLines(night, block, blocks++);
    block = [];
  }
  if (block.length > 0) yield blockLines(night, block, blocks++);
  if (blocks > 0) yield tally.lines();
}

function blockLines(night: string | null, entries: readonly LogEntry[], blocks: number): string {
  const lines = entryTable(entries);
  return blocks === 0 ? `${nightHeading(night)}\n${lines}\n` : `${lines.slice(lines.indexOf('\n') + 1)}\n`;
}

function nightHeading(night: string | null): string {
  return night === null ? 'At a time that is not known' : `Night of ${night}`;
}

function entryTable(entries: readonly LogEntry[]): string {
  return table(
    [
      { head: 'time' },
      { head: 'what' },
      { head: 'filter' },
      { head: 'planned', align: 'right' },
      { head: 'given', align: 'right' },
      { head: 'lamp on', align: 'right' },
      { head: '' },
    ],
    entries.flatMap((entry) => [
      [
        localTime(entry.at === null ? null : Date.parse(entry.at)),
        ...(isExposure(entry) ? exposureCells(entry) : [eventWords(entry)]),
      ],
      ...(isSheetMark(entry) ? noteLines(entry) : []).map((words) => ['', `  ${words}`]),
    ]),
  );
}

/** Sheets, the lamp's age, and what changed from one print to the next. */
class NightTally {
  readonly #rows = new RowsInTurn();
  readonly #changes = new PrintChanges();
  #totals = noTotals;
  #processed = 0;
  #bathBefore = Number.POSITIVE_INFINITY;

  add(entry: LogEntry): void {
    if (isExposure(entry)) this.#take(this.#rows.add(entry));
    else if (isSheetMark(entry)) this.#rows.hear(entry);
    else if (entry.kind === 'bath-used' && !isMixed(entry.details)) this.#countSheets(entry.details);
  }

  lines(): string {
    this.#take(this.#rows.end());
    const { prints, strips, wasted, underWay, lampMs, cutShort } = this.#totals;
    const tally = [
      counted(prints, 'print'),
      counted(strips, 'strip'),
      ...(wasted > 0 ? [`${counted(wasted, 'sheet')} wasted`] : []),
      ...(underWay > 0 ? [`${counted(underWay, 'sheet')} still under way`] : []),
      ...(this.#processed > 0 ? [`${counted(this.#processed, 'sheet')} through the baths`] : []),
      ...(cutShort > 0 ? [`${counted(cutShort, 'exposure')} cut short`] : []),
      `lamp on for ${duration(lampMs)}`,
    ];
    return ['', `${tally.join(', ')}.`, ...this.#changes.lines(), ''].join('\n');
  }

  #take(rows: readonly NightRow[]): void {
    for (const row of rows) {
      this.#totals = totalsWith(this.#totals, row);
      this.#changes.add(row);
    }
  }

  /** Not every paper goes into the first bath; a bath that is no later than the one before begins another go. */
  #countSheets({ bath, sheets }: { readonly bath: number; readonly sheets: number }): void {
    if (bath <= this.#bathBefore) this.#processed += sheets;
    this.#bathBefore = bath;
  }
}

function exposureCells(entry: ExposureEntry): string[] {
  const { kind, filter, plannedMs, doseMs, onMs } = entry;
  if (kind === 'focus' || kind === 'checkup') return [kind, '', '', '', seconds(onMs), endWords(entry)];
  return [`  ${whatOf(entry)}`, filter, seconds(plannedMs), seconds(doseMs), seconds(onMs), endWords(entry)];
}

function whatOf({ kind, pass, patch, label }: ExposureEntry): string {
  if (kind === 'strip') return `patch ${patch}`;
  if (kind === 'lamp-test') return patch === 0 ? 'one long exposure' : `patch ${patch}`;
  if (kind === 'safelight' || kind === 'stray') return patch === 1 ? 'grey before' : 'grey after';
  if (kind === 'plain') return 'plain exposure';
  if (kind === 'bracket') return `pass ${pass}, version ${patch}${label === '' ? '' : ` of ${label}`}`;
  return `pass ${pass}, ${kind}${label === '' || label === kind ? '' : ` ${label}`}`;
}

function endWords({ outcome, pauses }: ExposureEntry): string {
  const paused = pauses > 0 ? counted(pauses, 'pause') : '';
  return [outcome === 'complete' ? '' : outcome, paused].filter((word) => word !== '').join(', ');
}

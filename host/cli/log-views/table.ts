import { counted, duration, seconds } from '../../figures.js';
import { nightRows, nightTotals } from '../../pages/night/night-rows.js';
import { eventWords, isMixed } from '../../records/log/event-words.js';
import { type ExposureEntry, isExposure, type LogEntry } from '../../records/log/log-entry.js';
import { table } from '../terminal/table.js';
import { printChanges } from './print-changes.js';

/** The log for people: a heading for each night, and a line for each thing that happened. */
export function nightsOf(entries: readonly LogEntry[]): string {
  const nights = [...new Set(entries.map(({ night }) => night))];
  const entriesOf = (night: string | null) => entries.filter((entry) => entry.night === night);
  return nights
    .map((night) => `${nightHeading(night)}\n${nightTable(entriesOf(night))}\n${tallyOf(entriesOf(night))}`)
    .join('\n\n');
}

function nightHeading(night: string | null): string {
  return night === null ? 'At a time that no laptop told' : `Night of ${night}`;
}

function nightTable(entries: readonly LogEntry[]): string {
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
    entries.map((entry) => [
      clockTime(entry),
      ...(isExposure(entry) ? exposureCells(entry) : [eventWords(entry)]),
    ]),
  );
}

/** Sheets, the lamp's age, and what changed from one print to the next. */
function tallyOf(entries: readonly LogEntry[]): string {
  const { prints, strips, lampMs, cutShort } = nightTotals(nightRows(entries.filter(isExposure)));
  const { wasted, processed } = paperOf(entries);
  const tally = [
    counted(prints, 'print'),
    counted(strips, 'strip'),
    ...(wasted > 0 ? [`${counted(wasted, 'sheet')} wasted`] : []),
    ...(processed > 0 ? [`${counted(processed, 'sheet')} through the baths`] : []),
    ...(cutShort > 0 ? [`${counted(cutShort, 'exposure')} cut short`] : []),
    `lamp on for ${duration(lampMs)}`,
  ];
  return ['', `${tally.join(', ')}.`, ...printChanges(entries)].join('\n');
}

/** Sheets given up, and sheets that went through the baths. */
function paperOf(entries: readonly LogEntry[]): { wasted: number; processed: number } {
  let wasted = 0;
  let processed = 0;
  let bathBefore = Number.POSITIVE_INFINITY;
  for (const entry of entries) {
    if (entry.kind === 'sheet-ended' && entry.details.outcome !== 'complete') wasted++;
    if (entry.kind !== 'bath-used' || isMixed(entry.details)) continue;
    // Not every paper goes into the first bath; a bath that is no later than the one before begins another go.
    if (entry.details.bath <= bathBefore) processed += entry.details.sheets;
    bathBefore = entry.details.bath;
  }
  return { wasted, processed };
}

function clockTime({ at }: LogEntry): string {
  if (at === null) return '';
  const date = new Date(at);
  return [date.getHours(), date.getMinutes(), date.getSeconds()]
    .map((part) => `${part}`.padStart(2, '0'))
    .join(':');
}

function exposureCells(entry: ExposureEntry): string[] {
  const { kind, filter, plannedMs, doseMs, onMs } = entry;
  if (kind === 'focus') return ['focus', '', '', '', seconds(onMs), endWords(entry)];
  return [`  ${whatOf(entry)}`, filter, seconds(plannedMs), seconds(doseMs), seconds(onMs), endWords(entry)];
}

function whatOf({ kind, pass, patch, label }: ExposureEntry): string {
  if (kind === 'strip') return `patch ${patch}`;
  if (kind === 'lamp-test') return patch === 0 ? 'one long exposure' : `patch ${patch}`;
  if (kind === 'safelight') return patch === 1 ? 'grey before' : 'grey after';
  if (kind === 'bracket') return `pass ${pass}, version ${patch}${label === '' ? '' : ` of ${label}`}`;
  return `pass ${pass}, ${kind}${label === '' || label === kind ? '' : ` ${label}`}`;
}

function endWords({ outcome, pauses }: ExposureEntry): string {
  const paused = pauses > 0 ? counted(pauses, 'pause') : '';
  return [outcome === 'complete' ? '' : outcome, paused].filter((word) => word !== '').join(', ');
}

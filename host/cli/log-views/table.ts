import { type ExposureEntry, isExposure, type LogEntry } from '../../log/log-entry.js';
import { nightRows, nightTotals } from '../../night-picture/night-rows.js';
import { formatStops } from '../../recipe/stop-text.js';
import { counted, duration, seconds } from '../terminal/figures.js';
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
  const tally = [
    counted(prints, 'print'),
    counted(strips, 'strip'),
    ...(cutShort > 0 ? [`${counted(cutShort, 'exposure')} cut short`] : []),
    `lamp on for ${duration(lampMs)}`,
  ];
  return ['', `${tally.join(', ')}.`, ...printChanges(entries)].join('\n');
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
  return `pass ${pass}, ${kind}${label === '' || label === kind ? '' : ` ${label}`}`;
}

function endWords({ outcome, pauses }: ExposureEntry): string {
  const paused = pauses > 0 ? counted(pauses, 'pause') : '';
  return [outcome === 'complete' ? '' : outcome, paused].filter((word) => word !== '').join(', ');
}

function eventWords(entry: Exclude<LogEntry, ExposureEntry>): string {
  switch (entry.kind) {
    case 'started':
      return `board started (${entry.details.cause})`;
    case 'lens':
      return 'lens confirmed as stopped down';
    case 'sheet':
      return `sheet ${entry.details.sheet}: ${sheetWords(entry.details)}`;
    case 'pedal-stuck':
      return 'the pedal was stuck';
    default:
      return `${entry.kind} ${JSON.stringify(entry.details)}`;
  }
}

type SheetDetails = Extract<LogEntry, { readonly kind: 'sheet' }>['details'];

function sheetWords({
  job,
  recipe,
  version,
  baseMs,
  stepMs,
  stepStops120,
  patches,
  cover,
}: SheetDetails): string {
  if (job === 'recipe') return `recipe ${recipe}, version ${version}, base ${seconds(baseMs)}`;
  const step = stepMs > 0 ? seconds(stepMs) : `${formatStops(stepStops120)} stop`;
  return `strip, ${counted(patches, 'patch', 'patches')} from ${seconds(baseMs)} by ${step}, ${cover}`;
}

import { escapeXml } from '../../escape.js';
import { counted } from '../../figures.js';
import { eventWords, isBathOrTestResult } from '../../records/log/event-words.js';
import {
  type EventEntry,
  type ExposureEntry,
  isExposure,
  type LogEntry,
} from '../../records/log/log-entry.js';
import { noteLines } from '../../records/log/sheet-notes.js';
import { htmlPage, pageFont } from '../svg.js';
import { lampTimelineSvg } from './lamp-timeline.js';
import {
  isSheetMark,
  isUnscaled,
  type LoggedLight,
  type NightRow,
  nightRows,
  nightTotals,
  type SheetMark,
} from './night-rows.js';
import { totalsText } from './totals-words.js';

export interface NightPageOptions {
  /** The evening's date, YYYY-MM-DD; left out where the page covers more than a night. */
  readonly night?: string;
  /** What else the page tells: baths, and what tests on paper found. */
  readonly events?: readonly LogEntry[];
  /** IANA name of the time zone to write times in; the laptop's where it is left out. */
  readonly timeZone?: string;
}

/**
 * The night as a page: its figures, the time line of the lamp with a row a sheet, and the same as a table.
 * Everything logged is text here, never markup: labels come from recipes, and recipes from anywhere.
 */
export function nightPage(lights: readonly LoggedLight[], options: NightPageOptions = {}): string {
  return htmlPage(titleOf(options), style, nightPageBody(lights, options));
}

function titleOf({ night }: NightPageOptions): string {
  return night === undefined ? 'What the lamp gave' : `The night of ${night}`;
}

/** The same for a page that has a head and a style of its own. */
export function nightPageBody(lights: readonly LoggedLight[], options: NightPageOptions = {}): string {
  const rows = nightRows(inOrder(lights, options.events ?? []));
  const localTime = timeWriter(options.timeZone);
  return [
    `<h1>${escapeXml(titleOf(options))}</h1>`,
    `<p>${escapeXml(totalsText(nightTotals(rows)))}</p>`,
    rows.length === 0 ? '<p>No light is in the log.</p>' : lampTimelineSvg(rows, localTime),
    rows.length === 0 ? '' : table(rows, localTime, remarksBySheet(options.events ?? [])),
    eventTable((options.events ?? []).filter(isBathOrTestResult), localTime),
  ].join('\n');
}

/** Where the events have the lights among them, what the log says became of each sheet stands behind its lights. */
function inOrder(lights: readonly LoggedLight[], events: readonly LogEntry[]): (LoggedLight | SheetMark)[] {
  const told = events.flatMap((entry) => (isExposure(entry) || isSheetMark(entry) ? [entry] : []));
  return told.some(isExposure) ? told : [...lights];
}

const style =
  `body{font:16px/1.5 ${pageFont};color:#000;background:#fff;max-width:60rem;margin:2rem auto;padding:0 1rem}` +
  'h1{font-size:1.6rem;margin:0}svg{width:100%;height:auto;margin:1rem 0}' +
  'table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}' +
  'caption{text-align:left;font-weight:bold;padding:.5rem 0}' +
  'th,td{text-align:left;padding:.15rem .75rem .15rem 0;border-bottom:1px solid #ccc;font-weight:normal}' +
  'th{border-bottom:2px solid #000}.number{text-align:right}tr.first td{border-top:1px solid #000}' +
  '@media print{body{margin:0;max-width:none;font-size:11px}tr{break-inside:avoid}}';

/** What was said of each sheet, by the board's run and the sheet's number. */
function remarksBySheet(events: readonly LogEntry[]): ReadonlyMap<string, string> {
  const said = events.flatMap((event) =>
    isSheetMark(event) && noteLines(event).length > 0
      ? [[sheetKey({ ...event, sheet: event.details.sheet }), noteLines(event).join('; ')] as const]
      : [],
  );
  return new Map(said);
}

function sheetKey({
  board,
  log,
  boot,
  sheet,
}: Partial<Pick<ExposureEntry, 'board' | 'log' | 'sheet'>> & { readonly boot: number }): string {
  return JSON.stringify([board, log, boot, sheet]);
}

function table(
  rows: readonly NightRow[],
  localTime: (epochMs: number) => string,
  remarks: ReadonlyMap<string, string>,
): string {
  const heads = ['time', 'sheet', 'light', 'filter', 'planned, s', 'given, s', 'lamp on, s', 'end'];
  const numbers = new Set([4, 5, 6]);
  const cell = (tag: string, text: string, column: number) =>
    `<${tag}${numbers.has(column) ? ' class="number"' : ''}>${escapeXml(text)}</${tag}>`;
  const lines = rows.flatMap((row) => {
    const said = row.kind === 'focus' ? undefined : remarks.get(sheetKey(row.lights[0]!));
    return [
      ...row.lights.map((light, index) => {
        const cells = lightCells(light, index === 0 ? row.title : '', localTime);
        return `<tr${index === 0 ? ' class="first"' : ''}>${cells.map((text, column) => cell('td', text, column)).join('')}</tr>`;
      }),
      ...(said === undefined ? [] : [`<tr><td></td><td colspan="7">${escapeXml(said)}</td></tr>`]),
    ];
  });
  return (
    `<table><caption>Every light of the night</caption><thead><tr>${heads.map((text, column) => cell('th', text, column)).join('')}</tr></thead>` +
    `<tbody>${lines.join('\n')}</tbody></table>`
  );
}

function eventTable(events: readonly EventEntry[], localTime: (epochMs: number) => string): string {
  if (events.length === 0) return '';
  const lines = events.map((event) => {
    const time = event.at === null ? '' : localTime(Date.parse(event.at));
    return `<tr><td>${time}</td><td>${escapeXml(eventWords(event))}</td></tr>`;
  });
  return (
    '<table><caption>Baths and tests</caption><thead><tr><th>time</th><th>what</th></tr></thead>' +
    `<tbody>${lines.join('\n')}</tbody></table>`
  );
}

function lightCells(light: LoggedLight, sheet: string, localTime: (epochMs: number) => string): string[] {
  const seconds = (ms: number) => (ms / 1000).toFixed(2);
  const focus = isUnscaled(light);
  const name = light.label === '' ? light.kind : light.label;
  const pauses = light.pauses === 0 ? '' : `, ${counted(light.pauses, 'pause')}`;
  return [
    light.at === null ? '' : localTime(Date.parse(light.at)),
    sheet,
    name,
    light.filter,
    focus ? '' : seconds(light.plannedMs),
    focus ? '' : seconds(light.doseMs),
    seconds(light.onMs),
    `${light.outcome}${pauses}`,
  ];
}

function timeWriter(timeZone: string | undefined): (epochMs: number) => string {
  const format = new Intl.DateTimeFormat('en-GB', {
    hour: '2-digit',
    minute: '2-digit',
    ...(timeZone !== undefined && { timeZone }),
  });
  return (epochMs) => format.format(epochMs);
}

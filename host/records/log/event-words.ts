/** What is logged besides exposures, in words for people. */

import { counted, duration, seconds } from '../../figures.js';
import { formatBathTime } from '../../recipe/baths/bath-time-text.js';
import { formatDegreesC } from '../../recipe/baths/temperature-text.js';
import { formatStops } from '../../recipe/text/stop-text.js';
import type { EventEntry, ExposureEntry, LogEntry } from './log-entry.js';

type DetailsOf<Kind extends EventEntry['kind']> = Extract<EventEntry, { readonly kind: Kind }>['details'];

/** One line; text in it comes from the board as it is. */
export function eventWords(entry: Exclude<LogEntry, ExposureEntry>): string {
  switch (entry.kind) {
    case 'started':
      return `board started (${entry.details.cause})`;
    case 'lens':
      return 'lens confirmed as stopped down';
    case 'pedal-stuck':
      return 'the pedal was stuck';
    case 'sheet':
      return `sheet ${entry.details.sheet}: ${sheetWords(entry.details)}`;
    case 'strip-reading':
      return `sheet ${entry.details.sheet} read: ${stripReadingWords(entry.details)}`;
    case 'recipe-change':
      return recipeChangeWords(entry.details);
    case 'recipe-taken':
      return `recipe ${entry.details.recipe}, version ${entry.details.version}, taken as it is kept: what was turned is gone`;
    case 'recipe-version':
      return `recipe ${entry.details.recipe} kept as version ${entry.details.version}`;
    case 'stopped-down':
      return `stopped down by ${counted(entry.details.stops, 'stop')}, base now ${seconds(entry.details.baseMs)}`;
    case 'sheet-resumed':
      return `sheet ${entry.details.sheet} is gone on with; since the start ${tallyWords(entry.details)}`;
    case 'sheet-unused':
      return `sheet ${entry.details.sheet} never saw light, and counts as none`;
    case 'sheet-ended':
      return sheetEndedWords(entry.details);
    case 'bath-used':
      return bathWords(entry.details);
    case 'development':
      return developmentWords(entry.details);
    case 'test-result':
      return testResultWords(entry.details);
    case 'unusable-clock':
      return unusableClockWords(entry.details.epochMs);
    case 'unreadable':
      return `${entry.kind} ${JSON.stringify(entry.details)}`;
  }
}

/** Whether it is about baths or tests on paper: what a page of the lamp's lights would not show otherwise. */
export function isBathOrTestResult(
  entry: LogEntry,
): entry is Extract<EventEntry, { kind: 'bath-used' | 'development' | 'test-result' }> {
  return entry.kind === 'bath-used' || entry.kind === 'development' || entry.kind === 'test-result';
}

function unusableClockWords(epochMs: number | null): string {
  const date = new Date(epochMs ?? Number.NaN);
  const said = Number.isNaN(date.getTime())
    ? `${epochMs} ms since 1970`
    : `the year ${date.getUTCFullYear()}`;
  return `a laptop told a time that cannot be right (${said}); nothing is dated by it`;
}

function sheetWords(details: DetailsOf<'sheet'>): string {
  const { job, recipe, version, baseMs, patches, cover } = details;
  const variants = `${counted(patches, 'variant')} by ${stepWords(details)}, ${cover}`;
  switch (job) {
    case 'recipe':
      return `recipe ${recipe}, version ${version}, base ${seconds(baseMs)}`;
    case 'bracket':
      return `bracket of recipe ${recipe}, version ${version}, base ${seconds(baseMs)}, ${variants}`;
    case 'lamp-test':
      return `lamp test, one long exposure and ${counted(patches, 'patch', 'patches')} of short ones`;
    case 'safelight-test':
    case 'stray-light-test':
      return `${job === 'safelight-test' ? 'safelight test' : 'stray light test'}, ${counted(patches, 'band')}, grey ${seconds(baseMs)}`;
    case 'plain':
      return `plain exposure, ${seconds(baseMs)}`;
    case 'process':
    case 'clock':
    case 'checkup':
    case 'none':
      return job;
    case 'strip':
      return `strip, ${counted(patches, 'patch', 'patches')} from ${seconds(baseMs)} by ${stepWords(details)}, ${cover}`;
  }
}

function stepWords({ stepMs, stepStops120 }: DetailsOf<'sheet'>): string {
  return stepMs > 0 ? seconds(stepMs) : `${formatStops(stepStops120)} stop`;
}

function stripReadingWords({ verdict, patch, doseMs }: DetailsOf<'strip-reading'>): string {
  const time = doseMs === 0 ? '' : `, ${seconds(doseMs)}`;
  switch (verdict) {
    case 'patch':
      return `patch ${patch} is right${time}`;
    case 'between':
      return `between patches ${patch} and ${patch + 1}${time}`;
    case 'too-dark':
      return 'all too dark';
    case 'too-light':
      return 'all too light';
  }
}

function recipeChangeWords({
  recipe,
  what,
  pass,
  dodge,
  baseMs,
  stops120,
}: DetailsOf<'recipe-change'>): string {
  const of = recipe === '' ? '' : `recipe ${recipe}: `;
  if (what === 'base') return `${of}base turned to ${seconds(baseMs)}`;
  const piece = what === 'dodge' ? `dodge ${dodge} of pass ${pass}` : `pass ${pass}`;
  return `${of}${piece} turned to ${formatStops(stops120)} stop`;
}

function sheetEndedWords({ sheet, outcome, ...tally }: DetailsOf<'sheet-ended'>): string {
  return `sheet ${sheet} ${outcome}; since the start ${tallyWords(tally)}`;
}

function tallyWords({ prints, strips, wasted }: Record<'prints' | 'strips' | 'wasted', number>): string {
  const tally = [
    counted(prints, 'print'),
    counted(strips, 'strip or test', 'strips and tests'),
    `${wasted} wasted`,
  ];
  return tally.join(', ');
}

function bathWords(details: DetailsOf<'bath-used'>): string {
  const { bath, label, sheets, plannedMs, givenMs, outMs, totalSheets, totalCm2 } = details;
  const named = `bath ${bath}, ${label}`;
  if (isMixed(details)) return `${named}: mixed fresh`;
  const given = formatBathTime(Math.round(givenMs / 1000));
  const planned =
    Math.round(plannedMs / 1000) === Math.round(givenMs / 1000)
      ? ''
      : ` of ${formatBathTime(Math.round(plannedMs / 1000))}`;
  const out = outMs === 0 ? '' : `, out for ${duration(outMs)} before`;
  const total = `${counted(totalSheets, 'sheet')}, ${totalCm2} cm2 since it was mixed`;
  return `${named}: ${counted(sheets, 'sheet')} for ${given}${planned}${out}; ${total}`;
}

/** The time by first tone is common practice, no source. */
function developmentWords({
  bath,
  trayC10,
  firstToneMs,
  factor,
  plannedMs,
}: DetailsOf<'development'>): string {
  const time = formatBathTime(Math.round(plannedMs / 1000));
  const warm = trayC10 === 0 ? '' : `the tray at ${formatDegreesC(trayC10)}`;
  const tone = factor === 0 ? '' : `first tone after ${seconds(firstToneMs)}, ${factor} times that`;
  return `bath ${bath}: ${[warm, tone].filter((words) => words !== '').join('; ')}: ${time}`;
}

/** No sheets and no time: the bath was mixed fresh. */
export function isMixed({
  sheets,
  plannedMs,
}: Pick<DetailsOf<'bath-used'>, 'sheets' | 'plannedMs'>): boolean {
  return sheets === 0 && plannedMs === 0;
}

function testResultWords({ what, value }: DetailsOf<'test-result'>): string {
  if (what === 'lamp-lag-ms') return `lamp test: the lamp loses ${value} ms in each exposure`;
  if (what === 'dark-minutes')
    return value === 0
      ? 'stray light test: light leaks in, the shortest step differed'
      : `stray light test: with the safelight off paper may lie out for ${value} min`;
  return value === 0
    ? 'safelight test: not safe, the shortest step differed'
    : `safelight test: paper may lie out for ${value} min`;
}

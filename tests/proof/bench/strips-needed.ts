import { loadCore } from '../../../host/recipe/planner/core.js';
import { loadPlanner, type StripRequest } from '../../../host/recipe/planner/index.js';
import { verdict } from '../../../shared-protocol/schema.js';
import { Random } from '../../setup/random.js';
import { percent, type Section } from './page.js';
import { Printer, type Reading } from './printer.js';

const NEGATIVES = 1000;
const KNOWN_STOPS = 1 / 12;
const MOST_STRIPS = 12;
/** Two readings of one patch by eye, side by side, agree to about this, in density (common practice, no source). */
const BY_EYE = 0.02;

/** What tired eyes, or a weak lamp, may make of it. */
const POOR_EYES = 0.05;

/** The six stops that a first strip of six patches by whole stops from 2 s tells apart: 1.4 to 90.5 s. */
export const SIX_STOPS = { shortestMs: 2000 / Math.SQRT2, stops: 6 };
/** Where somebody lands who knows the enlarger and has set the lens for it: 5 to 30 s. */
export const USUAL = { shortestMs: 5000, stops: Math.log2(6) };

/** What to expose next; `before` is the strip that was read last. */
type Practice = (before?: { readonly strip: StripRequest; readonly reading: Reading }) => StripRequest;

const planner = loadPlanner();
const core = loadCore();

/** The board's own proposals: the core's first strip, and whatever it makes of each one that was read. */
export const byStops: Practice = (before) => {
  if (before === undefined) return inStops(2000, 120, 6);
  const { strip, reading } = before;
  const step = 'stops120' in strip.step ? strip.step.stops120 : 0;
  const seen = verdict.options.indexOf(verdictOf[reading.verdict]);
  core.nextStrip(seen, reading.bestMs, strip.firstMs, step, 0, strip.patches);
  return inStops(core.nextStripFirstMs(), core.nextStripStops120(), core.nextStripPatches());
};
const verdictOf = {
  found: 'patch',
  between: 'between',
  'all too dark': 'too-dark',
  'all too light': 'too-light',
} as const;

/** Steps of 5 s, then 2 s, then 1 s about the choice (a printers' forum; trade sheets have 5 to 30 s); below, halves on. */
export const bySeconds: Practice = (before) => {
  if (before === undefined) return inSeconds(5000, 5000);
  const { strip, reading } = before;
  const stepMs = 'equalMs' in strip.step ? strip.step.equalMs : 0;
  if (reading.verdict === 'all too light') return inSeconds(strip.firstMs + stepMs * strip.patches, stepMs);
  const finerMs = FINER_MS[FINER_MS.indexOf(stepMs) + 1] ?? stepMs;
  if (reading.verdict === 'all too dark') {
    const darkStepMs = stepMs === 5000 ? 1000 : finerMs;
    return inSeconds(Math.max(darkStepMs, strip.firstMs - 5 * darkStepMs), darkStepMs);
  }
  return inSeconds(Math.max(finerMs, reading.bestMs - 2 * finerMs), finerMs);
};
const FINER_MS = [5000, 2000, 1000, 500, 200, 100];

function inStops(firstMs: number, stops120: number, patches: number): StripRequest {
  return { firstMs, step: { stops120 }, patches, cover: 'cumulative' };
}

function inSeconds(firstMs: number, equalMs: number): StripRequest {
  return { firstMs, step: { equalMs }, patches: 6, cover: 'cumulative' };
}

export interface Count {
  /** How many negatives took 1, 2, 3 ... strips. */
  readonly byStrips: readonly number[];
  /** How many bases were really within a twelfth of a stop, and of those how many after two strips. */
  readonly right: number;
  readonly rightWithinTwo: number;
  /** The share that eyes alone allow. */
  readonly eyesAllow: number;
}

export interface Range {
  readonly shortestMs: number;
  readonly stops: number;
}

/** Works `NEGATIVES` seeded negatives through to a base that is known to a twelfth of a stop. */
export function countStrips(
  practice: Practice,
  range: Range,
  misread: number,
  saysBetween = false,
  seed = 1,
): Count {
  const random = new Random(seed);
  const printer = new Printer(random, misread, saysBetween);
  const byStrips = new Array<number>(MOST_STRIPS + 1).fill(0);
  let [right, rightWithinTwo] = [0, 0];
  for (let negative = 0; negative < NEGATIVES; negative++) {
    const rightMs = range.shortestMs * 2 ** (random.share() * range.stops);
    const { strips, bestMs } = findBase(practice, printer, rightMs);
    byStrips[strips]!++;
    if (Math.abs(Math.log2(bestMs / rightMs)) > KNOWN_STOPS * 1.01) continue;
    right++;
    if (strips <= 2) rightWithinTwo++;
  }
  return { byStrips, right, rightWithinTwo, eyesAllow: printer.shareWithinByEyes(KNOWN_STOPS) };
}

function findBase(practice: Practice, printer: Printer, rightMs: number): { strips: number; bestMs: number } {
  let before: { strip: StripRequest; reading: Reading } | undefined;
  for (let strips = 1; strips <= MOST_STRIPS; strips++) {
    const strip = practice(before);
    const reading = printer.read(
      rightMs,
      planner.planStrip(strip).patches.map(({ doseMs }) => doseMs),
    );
    if (isKnown(reading)) return { strips, bestMs: reading.bestMs };
    before = { strip, reading };
  }
  return { strips: MOST_STRIPS, bestMs: before!.reading.bestMs };
}

/** What the strip cannot tell apart is less than a twelfth of a stop to either side. */
function isKnown({ verdict, bestMs, lowMs, highMs }: Reading): boolean {
  const stopsAway = Math.max(Math.log2(bestMs / lowMs), Math.log2(highMs / bestMs));
  return (verdict === 'found' || verdict === 'between') && stopsAway <= KNOWN_STOPS * 1.01; // times are rounded to the millisecond
}

export function stripsNeeded(): Section {
  const cases: [string, Range, number, boolean][] = [
    ['anywhere in six stops, perfect eyes', SIX_STOPS, 0, false],
    [`anywhere in six stops, eyes to ${BY_EYE}`, SIX_STOPS, BY_EYE, false],
    [`the same, says 'between two' as well`, SIX_STOPS, BY_EYE, true],
    ['within 5 to 30 s, perfect eyes', USUAL, 0, false],
    [`within 5 to 30 s, eyes to ${BY_EYE}`, USUAL, BY_EYE, false],
    [`the same, says 'between two' as well`, USUAL, BY_EYE, true],
    [`within 5 to 30 s, eyes to ${POOR_EYES}`, USUAL, POOR_EYES, false],
    [`the same, says 'between two' as well`, USUAL, POOR_EYES, true],
  ];
  return {
    title: 'Strips until the base is known within 1/12 stop',
    about:
      `${NEGATIVES} seeded negatives in the virtual darkroom. In stops: what the board itself proposes. ` +
      'In seconds: steps of 5 s, then 2 s, then 1 s, as is common practice, on in halves where those are too coarse. ' +
      'Eyes allow: of single looks at a print of the right exposure, off by up to so much in density, evenly, the share ' +
      "that is within 1/12 stop on the same paper's curve at 0.60 above base. " +
      'Goals: two strips in stops for 99 of 100 negatives, and the base right after two within half a point of what eyes allow.',
    columns: [
      'right exposure',
      'eyes allow',
      'in stops: mean',
      'within two',
      'base right',
      'right within two',
      'in seconds: mean',
      'within two',
      'base right',
      'right within two',
      'seconds : stops',
    ],
    rows: cases.map(([what, range, misread, saysBetween]) => {
      const stops = countStrips(byStops, range, misread, saysBetween);
      const seconds = countStrips(bySeconds, range, misread, saysBetween);
      const ratio = (meanStrips(seconds) / meanStrips(stops)).toFixed(2);
      return [what, percent(stops.eyesAllow), ...cells(stops), ...cells(seconds), ratio];
    }),
  };
}

function cells(count: Count): string[] {
  const shares = [withinTwo(count), count.right / NEGATIVES, rightWithinTwo(count)];
  return [meanStrips(count).toFixed(2), ...shares.map(percent)];
}

export function rightWithinTwo(count: Count): number {
  return count.rightWithinTwo / NEGATIVES;
}

function meanStrips({ byStrips }: Count): number {
  return byStrips.reduce((sum, negatives, strips) => sum + negatives * strips, 0) / NEGATIVES;
}

export function withinTwo({ byStrips }: Count): number {
  return (byStrips[1]! + byStrips[2]!) / NEGATIVES;
}

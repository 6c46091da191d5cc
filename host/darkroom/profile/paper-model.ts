import { densityAt, logExposureFor } from '../paper/characteristic-curve.js';
import { curveFrom } from '../paper/paper.js';
import { ASSUMED_BLACK, LN_BLACK_SPREAD } from '../reading/assumed-black.js';
import { errorBudgets } from '../reading/error-budget.js';
import type { Observation, Unknown } from '../reading/estimate.js';
import { seenDensity } from '../reading/stray-light.js';
import { LOG10_OF_STOP } from '../reading/strip-figures.js';
import { curveDensity } from './curve-form.js';
import type { KeptStripReading } from './kept-reading.js';
import { referenceLight, type StartValues, startValues } from './start-values.js';
import type { NumberedStrip } from './strips.js';

/** The unknowns of a paper, its strips and the scanners, by their names. */
export const unknownNames = {
  /** Natural logarithm of the deepest density above white. */
  black: 'black',
  /** Natural logarithm of ISO R. */
  range: (filter: string) => `range ${filter}`,
  /** Natural logarithm of how round the curve's corners are, against the usual: of the paper, and a filter's from that. */
  corners: 'corners',
  cornersOf: (filter: string) => `corners ${filter}`,
  /** Natural logarithm of the power that makes the toe longer, below 0, or the shoulder. */
  skew: 'skew',
  skewOf: (filter: string) => `skew ${filter}`,
  /** log10 of the exposure for 0.60 above white. */
  speed: (filter: string) => `speed ${filter}`,
  /** log10 of what a second of it is in the unit of the exposures. */
  light: (light: string) => `light ${light}`,
  /** A scanner's gamma, and its stray light as a share of white: alike in all its scans. */
  tone: (device: string) => `tone of ${device}`,
  stray: (device: string) => `stray light of ${device}`,
  /** Of one scan, in density. */
  white: (scan: string) => `white of ${scan}`,
  /** log10 of what the light meter says, from what there is. */
  meter: 'meter',
  /** log10 of how much more light the wet strip would have needed to look as dry. */
  dryDown: 'dry-down',
  ofStrip: (number: number, what: 'range' | 'speed') => `${what} of strip ${number}`,
} as const;
const names = unknownNames;

/** A hand-held light meter is within some ten per cent: common practice, no source. */
const METER_LOG = 0.04;
/** The project's curve is not quite a paper's, by so much in density; no source. */
const CURVE_DOUBT = 0.002;
/** Nothing is known of it before. */
const WIDE = { range: 0.7, log: 3, dryDown: 0.3 } as const;
/**
 * The form of a paper's curve is its own: it is looked for once, and each filter differs from it by little (filters that spread a
 * paper's layers leave the corners sharper for the length of the range). Were it supposed of each filter anew, a paper of another form
 * would speak against the supposed one once per filter, and what all filters share, the black and the scanner, would be bent to
 * make up for it. By trials; no source.
 */
const CORNERS = { prior: -0.3, spread: 1.2, ofFilter: 0.4 } as const;
const SKEW = { prior: 0, spread: 1.2, ofFilter: 0.35 } as const;
/** Of a calibrated tablet's step, 0.01 in density: common practice, no source. */
const TABLET_LOG = 0.01;
const USUAL_R = 110;

export interface PaperProblem {
  readonly unknowns: readonly Unknown[];
  readonly observations: readonly Observation[];
  /** The light that exposures are counted in; undefined for lux. */
  readonly light: string | undefined;
}

/**
 * What is looked for and what was seen, of strips of one paper in one developer.
 * @param apart a strip that is given a range and a speed of its own beside those of its filter.
 */
export function paperProblem(
  strips: readonly NumberedStrip[],
  apart?: number,
  begin = startValues(strips),
): PaperProblem {
  const light = referenceLight(strips);
  const unknowns = new Map<string, Unknown>();
  const add = (unknown: Unknown) => {
    if (!unknowns.has(unknown.name)) unknowns.set(unknown.name, unknown);
  };
  add({ name: names.black, prior: Math.log(ASSUMED_BLACK), spread: LN_BLACK_SPREAD });
  const observations = strips.flatMap((strip) => {
    const isApart = strip.number === apart;
    for (const unknown of unknownsOf(strip, light, begin)) add(unknown);
    if (isApart) for (const unknown of ofItsOwn(strip.number)) add(unknown);
    return observationsOf(strip, { light, begin, isApart });
  });
  return { unknowns: [...unknowns.values()], observations, light };
}

/** What a strip has that is given a range and a speed of its own. */
export function ofItsOwn(number: number): Unknown[] {
  return [
    { name: names.ofStrip(number, 'range'), prior: 0, spread: WIDE.range },
    { name: names.ofStrip(number, 'speed'), prior: 0, spread: WIDE.log },
  ];
}

/** What was seen on one strip. */
export function observationsOf(
  strip: NumberedStrip,
  by: Pick<Seen, 'light' | 'begin' | 'isApart'>,
): Observation[] {
  const { patches, wet = [] } = strip.reading;
  const seen = (isWet: boolean) => (patch: (typeof patches)[number]) =>
    observationOf(strip, patch, { ...by, isWet });
  return [...patches.map(seen(false)), ...wet.map(seen(true))];
}

function unknownsOf(
  { number, reading }: NumberedStrip,
  light: string | undefined,
  begin: StartValues,
): Unknown[] {
  const { filter, device, lux } = reading;
  const budget = errorBudgets[device];
  const evenness = { prior: 0, spread: budget.evennessDensity };
  const start = (map: ReadonlyMap<string, number>, name: string) => ({ start: map.get(name) ?? 0 });
  const ofLight: Unknown[] =
    lux !== undefined
      ? [{ name: names.meter, prior: 0, spread: METER_LOG }]
      : reading.light === light
        ? []
        : [
            {
              name: names.light(reading.light),
              prior: 0,
              spread: WIDE.log,
              ...start(begin.lights, reading.light),
            },
          ];
  return [
    {
      name: names.range(filter),
      prior: Math.log(USUAL_R),
      spread: WIDE.range,
      ...start(begin.ranges, filter),
    },
    { name: names.speed(filter), prior: 0, spread: WIDE.log, ...start(begin.speeds, filter) },
    { name: names.corners, prior: CORNERS.prior, spread: CORNERS.spread, start: begin.form.corners },
    { name: names.cornersOf(filter), prior: 0, spread: CORNERS.ofFilter },
    { name: names.skew, prior: SKEW.prior, spread: SKEW.spread, start: begin.form.skew },
    { name: names.skewOf(filter), prior: 0, spread: SKEW.ofFilter },
    { name: names.tone(device), prior: 1, spread: budget.gammaShare },
    { name: names.stray(device), prior: budget.flareShare, spread: budget.flareSpread },
    { name: names.white(`${number}`), ...evenness },
    ...ofLight,
    ...(reading.wet === undefined
      ? []
      : [
          { name: names.white(`${number}, wet`), ...evenness },
          { name: names.dryDown, prior: 0, spread: WIDE.dryDown },
        ]),
  ];
}

interface Seen {
  readonly isWet: boolean;
  readonly isApart: boolean;
  readonly light: string | undefined;
  readonly begin: StartValues;
}

function observationOf(
  { number, reading }: NumberedStrip,
  { doseMs, density, noise }: KeptStripReading['patches'][number],
  { isWet, isApart, light, begin }: Seen,
): Observation {
  const { filter, device, lux, wedge } = reading;
  const budget = errorBudgets[device];
  const fixedLog = Math.log10(doseMs) + (lux === undefined ? 0 : Math.log10(lux / 1000));
  const lightName =
    lux !== undefined ? names.meter : reading.light === light ? undefined : names.light(reading.light);
  const logs = [
    ...(lightName === undefined ? [] : [lightName]),
    ...(isWet ? [names.dryDown] : []),
    ...(isApart ? [names.ofStrip(number, 'speed')] : []),
  ];
  const signs = logs.map((name) =>
    name === names.dryDown || name === names.ofStrip(number, 'speed') ? -1 : 1,
  );
  const uses = [
    names.black,
    names.range(filter),
    names.speed(filter),
    names.corners,
    names.cornersOf(filter),
    names.skew,
    names.skewOf(filter),
    names.tone(device),
    names.stray(device),
    names.white(isWet ? `${number}, wet` : `${number}`),
    ...logs,
    ...(isApart ? [names.ofStrip(number, 'range')] : []),
  ];
  const model = (values: readonly number[]): number => {
    const [black, range, speed, corners, cornersOf, skew, skewOf, tone, stray, white, ...rest] = values;
    const logExposure = signs.reduce((sum, sign, at) => sum + sign * rest[at]!, fixedLog) - speed!;
    const lnRange = range! + (isApart ? rest[signs.length]! : 0);
    const form = { lnBlack: black!, lnRange, lnCorners: corners! + cornersOf!, lnPower: skew! + skewOf! };
    return seenDensity(curveDensity(logExposure, form), tone!, stray!) + white!;
  };
  const slope = slopeAt(density, reading, begin);
  const dose = wedge === undefined ? budget.doseStops * LOG10_OF_STOP : TABLET_LOG;
  const doubt = Math.hypot(noise, budget.evennessDensity, CURVE_DOUBT, slope * dose);
  return { uses, model, seen: density, doubt };
}

/** How steep the curve is there: an error of the light does the less to white and to black. */
function slopeAt(density: number, { filter }: KeptStripReading, { ranges }: StartValues): number {
  const rangeR = Math.exp(ranges.get(filter) ?? Math.log(USUAL_R));
  const curve = curveFrom({ baseDensity: 0, maximumDensity: ASSUMED_BLACK }, { speedP: 1000, rangeR });
  const at = logExposureFor(curve, Math.min(0.99, Math.max(0.01, density / ASSUMED_BLACK)) * ASSUMED_BLACK);
  return (densityAt(curve, at + SMALL_LOG) - densityAt(curve, at - SMALL_LOG)) / (2 * SMALL_LOG);
}
const SMALL_LOG = 0.01;

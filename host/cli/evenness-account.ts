import type { EdgeBurns } from '../darkroom/evenness/edge-burns.js';
import { type EvennessRefusal, evennessRefusals } from '../darkroom/evenness/evenness-refusal.js';
import type { ScannerPart, SurveyFigures } from '../darkroom/evenness/survey-light.js';
import { riseOfSlopeMm } from '../darkroom/light/easel-light.js';
import type { Interval } from '../darkroom/reading/strip-figures.js';
import { InputError } from '../errors.js';
import { counted, hundredths } from '../figures.js';
import { formatStops } from '../recipe/text/stop-text.js';
import { table } from './terminal/table.js';

/** The light cannot be told from this scan; the message says why, and what to do. */
export class LightUntoldError extends InputError {
  override readonly name = 'LightUntoldError';
  constructor(readonly code: EvennessRefusal) {
    super(`the light was not told (${code}): ${evennessRefusals[code]}`);
  }
}

/** More light than the first sheet had, where a person tells nothing. */
export const USUAL_STEP = '1/2';

export interface ToldLight {
  readonly figures: SurveyFigures;
  readonly burns: EdgeBurns;
  readonly lensHeightMm: number | undefined;
  /** How grey was made light. */
  readonly by: string;
}

/** What scripts read: stops from the middle with their 95 % intervals. */
export function lightData(told: ToldLight | undefined, refused: EvennessRefusal | null) {
  if (told === undefined) return { refused, places: null, slope: null, burns: null };
  const { figures, burns, lensHeightMm } = told;
  const { across, down } = figures.slope;
  return {
    refused,
    places: Object.fromEntries(
      Object.entries(figures.places).map(([place, stops]) => [place, rounded(stops)]),
    ),
    slope: {
      rightOfMiddle: rounded(across),
      belowMiddle: rounded(down),
      ...(lensHeightMm !== undefined && {
        rightNearerMm: rounded(inMm(across, lensHeightMm)),
        bottomNearerMm: rounded(inMm(down, lensHeightMm)),
      }),
    },
    scanner: figures.scanner,
    rangeBySecondSheet: figures.rangeR === undefined ? null : Math.round(figures.rangeR),
    otherSteps: figures.otherSteps.map(({ stops, times, rangeR }) => ({
      stops: stepWord(stops),
      times: threePlaces(times),
      rangeR: Math.round(rangeR),
    })),
    burns: passesOf(burns),
    differenceStops: { before: threePlaces(burns.beforeStops), after: threePlaces(burns.afterStops) },
  };
}

function rounded({ value, low, high }: Interval) {
  return { value: threePlaces(value), low: threePlaces(low), high: threePlaces(high) };
}

function threePlaces(value: number): number {
  return Number(value.toFixed(3));
}

/** As they stand in a recipe's file. */
function passesOf({ burns }: EdgeBurns) {
  return burns.map(({ stops120, shape }) => ({
    kind: 'burn' as const,
    label: `${shape.side} edge`,
    stops: formatStops(stops120),
    shape,
  }));
}

export function lightAccount(told: ToldLight): string {
  const { figures, burns } = told;
  const parts = [
    placesTable(figures),
    otherStepWords(figures),
    slopeWords(told),
    burnWords(burns),
    supposed(told),
  ];
  return parts.filter((part) => part !== '').join('\n\n');
}

/** The intervals hold with the supposed step alone, so this stands right under them. */
function otherStepWords({ otherSteps }: SurveyFigures): string {
  if (otherSteps.length === 0) return '';
  const each = otherSteps.map(
    ({ stops, times, rangeR }) =>
      `with ${stepWord(stops)} stop every figure is ${Number(times.toFixed(2))} times as large, and the paper about R${10 * Math.round(rangeR / 10)}`,
  );
  return `Nobody told how much more light the second sheet had, and +${USUAL_STEP} stop is supposed. The sheets alone do not tell: ${each.join('; ')}. Tell it by --darker-by.`;
}

function stepWord(stops: number): string {
  return formatStops(Math.round(120 * stops));
}

function placesTable({ places }: SurveyFigures): string {
  const heads = ['stops', '95 % from', 'to'].map((head) => ({ head, align: 'right' as const }));
  return table(
    [{ head: 'from the middle to' }, ...heads],
    Object.entries(places).map(([place, { value, low, high }]) => [
      place,
      ...[value, low, high].map(stopsWord),
    ]),
  );
}

function stopsWord(stops: number): string {
  return hundredths(Math.round(100 * stops));
}

/** A slope that stays when the round fall-off is taken away. */
function slopeWords({ figures: { slope }, lensHeightMm }: ToldLight): string {
  const told = [
    { ...slope.across, ends: ['left', 'right'] },
    { ...slope.down, ends: ['top', 'bottom'] },
  ].filter(({ low, high }) => low > 0 || high < 0);
  if (told.length === 0)
    return 'No slope is told from one edge to another: the easel lies level to the lens as far as this sheet tells.';
  const lines = told.map(({ value, low, high, ends }) => {
    const [far, near] = value > 0 ? ends : [ends[1]!, ends[0]!];
    const size = sized({ value, low, high });
    return `The ${near} edge has ${twice(size)} more light than the ${far} one besides the round fall-off: ${heightWords(size, near!, lensHeightMm)}`;
  });
  return `${lines.join('\n')}\nA negative stage or a lens that is askew, and a lamp off its middle, do the same: lay a level on the easel and on the negative stage first.`;
}

function sized({ value, low, high }: Interval): Interval {
  return value > 0 ? { value, low, high } : { value: -value, low: -high, high: -low };
}

/** From edge to edge, what is told from the middle. */
function twice({ value, low, high }: Interval): string {
  return `${(2 * value).toFixed(2)} stop (${(2 * low).toFixed(2)} to ${(2 * high).toFixed(2)})`;
}

function heightWords(size: Interval, near: string, lensHeightMm: number | undefined): string {
  if (lensHeightMm === undefined)
    return `if the easel is tilted, its ${near} edge is too near to the lens (--lens-height tells by how much).`;
  const { value, low, high } = inMm(size, lensHeightMm);
  return `if the easel is tilted, its ${near} edge is too near to the lens, ${value.toFixed(1)} mm higher than the other (${low.toFixed(1)} to ${high.toFixed(1)}).`;
}

function inMm({ value, low, high }: Interval, lensHeightMm: number): Interval {
  const mm = (stops: number) => riseOfSlopeMm(stops, lensHeightMm);
  return { value: mm(value), low: mm(low), high: mm(high) };
}

function burnWords(burns: EdgeBurns): string {
  const { beforeStops, afterStops } = burns;
  const before = `From the lightest to the darkest place it is ${beforeStops.toFixed(2)} stop`;
  if (burns.burns.length === 0) return `${before}: no burn of the edges in twelfths makes that better.`;
  const lines = passesOf(burns).map((pass) => `    ${JSON.stringify(pass)}`);
  return `${before}; with ${counted(burns.burns.length, 'burn')} of the edges, for the passes of a recipe, ${afterStops.toFixed(2)}:\n${lines.join(',\n')}`;
}

const scannerWords: Record<ScannerPart, string> = {
  'by the border': "The scanner's own unevenness was taken off by the white border.",
  'by turning, in part':
    "Turning the sheet took off the half of the scanner's unevenness that is not alike on both sides; a fall-off to all sides of the scanner stays, supposed to be small.",
  not: "The scanner's own unevenness cannot be told apart, and is supposed to be small: scan the sheet again turned by 180 degrees (--turned), or with a white border.",
};

function supposed({ figures, by }: ToldLight): string {
  return `${by} ${scannerWords[figures.scanner]}\nPlaces are those of the scan. The paper is supposed to be developed evenly: a second sheet, turned on the easel, shows what is of the sheet and what of the light.`;
}

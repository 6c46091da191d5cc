import type { BandPoint } from '../darkroom/profile/curve-band.js';
import { curveBand } from '../darkroom/profile/curve-band.js';
import { type KeptReading, keptReadingFrom } from '../darkroom/profile/kept-reading.js';
import type { FilterProfile, PaperProfile, ProfileStrip } from '../darkroom/profile/paper-profile.js';
import type { PaperReadingRow } from '../darkroom/profile/strips.js';
import type { Interval } from '../darkroom/reading/strip-figures.js';
import { filterText } from '../daylight/filters/filter-table.js';
import { type MeasuredPaper, paperName } from '../daylight/papers/measured-paper.js';
import { counted } from '../figures.js';
import type { ChartBounds, PaperChart } from '../pages/paper/paper-chart.js';
import { nightOf } from '../records/log/night.js';
import { table } from './terminal/table.js';

/** All that is known of a paper, each figure with its interval. */
export function paperAccount(measured: MeasuredPaper): string {
  const { profile } = measured;
  return [
    `${paperName(measured)}, version ${profile.version} of its profile`,
    filterTable(profile),
    [blackWords(profile), ...dryDownWords(profile)].join('\n'),
    stripTable(profile),
    ...profile.strips.flatMap(outlierWords),
    ...unreadableWords(measured),
    'In brackets: between what it lies in 95 of 100 cases. Densities are scanner densities above paper white.',
  ].join('\n\n');
}

function filterTable({ filters, referenceFilter }: PaperProfile): string {
  const reference = filterText(referenceFilter);
  return table(
    [
      { head: 'through' },
      { head: 'ISO range' },
      { head: `factor from ${reference}` },
      { head: 'ISO speed' },
      { head: 'strips' },
    ],
    filters.map((each) => [
      filterText(each.filter),
      spread(each.rangeR, 'R', 0),
      each.filter === referenceFilter ? '1' : spread(each.factor, '', 2),
      spread(each.speedP, 'P', 0),
      each.strips.join(', '),
    ]),
  );
}

/** `R104 (98-110)`. */
export function spread(interval: Interval | undefined, before: string, decimals: number): string {
  if (interval === undefined) return 'not told';
  const { value, low, high } = interval;
  return `${before}${value.toFixed(decimals)} (${low.toFixed(decimals)}-${high.toFixed(decimals)})`;
}

function blackWords({ black }: PaperProfile): string {
  const from = black.isMeasured ? 'as strips show it' : 'assumed: no strip shows it';
  return `Deepest black ${spread(black, '', 2)} above white, ${from}.`;
}

function dryDownWords({ dryDownStops }: PaperProfile): string[] {
  if (dryDownStops === undefined) return [];
  const percent = (stops: number) => 100 * (1 - 2 ** -stops);
  const { value, low, high } = dryDownStops;
  return [
    `It dries ${value.toFixed(2)} stop darker (${low.toFixed(2)}-${high.toFixed(2)}): dry-down ${percent(value).toFixed(1)} %.`,
  ];
}

function stripTable({ strips }: PaperProfile): string {
  return table(
    ['strip', 'read', 'filter', 'light', 'from', ''].map((head) => ({ head })),
    strips.map(({ number, keptMs, reading, state }) => [
      `${number}`,
      nightOf(keptMs),
      reading.filter === '' ? 'none' : reading.filter,
      reading.light,
      reading.sheet === undefined ? reading.scan : `${reading.scan}, sheet ${reading.sheet}`,
      state === 'taken' ? '' : state,
    ]),
  );
}

function outlierWords({ number, outlier }: ProfileStrip): string[] {
  if (outlier === undefined) return [];
  const by =
    outlier.of === 'range'
      ? `its range is ${(100 * Math.abs(Math.expm1(outlier.off))).toFixed(0)} % ${outlier.off > 0 ? 'wider' : 'narrower'}`
      : `it is ${Math.abs(outlier.off).toFixed(2)} stop ${outlier.off > 0 ? 'slower' : 'quicker'}`;
  const light =
    outlier.of === 'speed'
      ? ' Where its lens stop, its height or the lamp was another, leave it out and add it once more with a --light of its own.'
      : '';
  const far = `${by} than the others say, ${Math.abs(outlier.deviations).toFixed(1)} standard deviations`;
  return [
    outlier.isLeftOut
      ? `Strip ${number} does not go with the others: ${far}. It is not in the figures.${light}`
      : `Strip ${number} and another do not go together: ${far}. Read a third to tell which is wrong.${light}`,
  ];
}

function unreadableWords({ unreadable }: MeasuredPaper): string[] {
  if (unreadable === 0) return [];
  return [
    `${counted(unreadable, 'reading')} of the archive cannot be read, damaged or kept by a newer treadle: not in the figures.`,
  ];
}

/** What scripts read; null what is not told. */
export function paperData(measured: MeasuredPaper) {
  const { paper, developer, versions, profile } = measured;
  return {
    paper,
    developer,
    version: profile.version,
    versions,
    unreadable: measured.unreadable,
    referenceFilter: profile.referenceFilter,
    filters: profile.filters.map(({ filter, rangeR, factor, speedP, strips }) => ({
      filter,
      rangeR: rangeR ?? null,
      factor: factor ?? null,
      speedP: speedP ?? null,
      strips,
    })),
    blackAboveWhite: profile.black,
    dryDownStops: profile.dryDownStops ?? null,
    strips: profile.strips.map(({ number, keptMs, reading, state, outlier }) => ({
      number,
      keptMs,
      state,
      outlier: outlier ?? null,
      ...reading,
    })),
  };
}

export interface ListedVersion {
  readonly version: number;
  readonly keptMs: number;
  readonly what: string;
}

/** What each version of a profile has more than the one before. */
export function versionsOf(rows: readonly PaperReadingRow[]): ListedVersion[] {
  let strips = 0;
  return rows.map(({ body, keptMs }, at) => {
    const said = keptReadingFrom(body);
    if (said?.kind === 'strip') strips++;
    return {
      version: at + 1,
      keptMs,
      what: said === undefined ? 'not to be read' : whatWasSaid(said, strips),
    };
  });
}

function whatWasSaid(said: KeptReading, number: number): string {
  if (said.kind === 'strip') return `strip ${number}, ${filterText(said.filter)}, from ${said.scan}`;
  return `strip ${said.reading} ${said.kind === 'left-out' ? 'left out' : 'taken in again'}`;
}

export function versionTable(versions: readonly ListedVersion[]): string {
  return table(
    [{ head: 'version', align: 'right' }, { head: 'read' }, { head: 'what' }],
    versions.map(({ version, keptMs, what }) => [`${version}`, nightOf(keptMs), what]),
  );
}

const STOPS_STEP = 0.1;

/** The curves of all filters whose range and factor are told. */
export function chartOf(measured: MeasuredPaper): { chart: PaperChart; bounds: ChartBounds } {
  const { profile } = measured;
  const [fromStops, toStops] = stopsShown(profile);
  const all = Array.from(
    { length: Math.round((toStops - fromStops) / STOPS_STEP) + 1 },
    (_, at) => fromStops + at * STOPS_STEP,
  );
  const panels = profile.filters.flatMap((filter) => {
    const isTold = filter.rangeR !== undefined && filter.factor !== undefined;
    return isTold ? [panelOf(profile, filter, curveBand(profile, filter.filter, all))] : [];
  });
  const count = profile.strips.filter(({ state }) => state === 'taken' || state === 'in doubt').length;
  return {
    chart: {
      title: paperName(measured),
      subtitle: `from ${counted(count, 'strip')}, version ${profile.version}`,
      panels,
    },
    bounds: { fromStops, toStops, maxDensity: Math.ceil(2 * profile.black.high) / 2 },
  };
}

function panelOf(
  { strips, referenceFilter }: PaperProfile,
  filter: FilterProfile,
  curve: readonly BandPoint[],
) {
  const own = strips.filter(({ reading }) => reading.filter === filter.filter);
  return {
    name: filterText(filter.filter),
    figures: [
      spread(filter.rangeR, 'R', 0),
      filter.filter === referenceFilter ? 'factor 1' : `factor ${spread(filter.factor, '', 2)}`,
      ...(filter.speedP === undefined ? [] : [spread(filter.speedP, 'P', 0)]),
    ],
    curve,
    readings: own.flatMap(({ points, state }) =>
      points.map((point) => ({ ...point, isLeftOut: state === 'outlier' || state === 'left out by you' })),
    ),
  };
}

/** From white to black through every filter, in whole stops. */
function stopsShown({ filters }: PaperProfile): [number, number] {
  const reach = filters.flatMap(({ rangeR, factor }) => {
    if (rangeR === undefined || factor === undefined) return [];
    const stops = rangeR.value / 100 / Math.log10(2);
    const middle = Math.log2(factor.value);
    return [middle - 0.5 * stops - 1, middle + 0.75 * stops + 1];
  });
  return reach.length === 0 ? [-3, 3] : [Math.floor(Math.min(...reach)), Math.ceil(Math.max(...reach))];
}

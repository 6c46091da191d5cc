import {
  type SurveyAsked,
  type SurveyFigures,
  sheetPlaces,
  surveyLight,
} from '../../../host/darkroom/evenness/survey-light.js';
import { riseOfSlopeMm } from '../../../host/darkroom/light/easel-light.js';
import type { Interval } from '../../../host/darkroom/reading/strip-figures.js';
import { type GreyScans, greyScans } from '../../host/darkroom/evenness/grey-scans.js';
import { Random, scatteredSeed } from '../../setup/random.js';
import { percent, type Section } from './page.js';

const SHEETS = Number(process.env.SHEETS ?? 30);
/** Beyond those that the survey's figures were tried on while it was made. */
const FIRST_SEED = 30_001;
const SHEET_MM = { across: 240, down: 180 } as const;

const ways: Readonly<Record<string, (scans: GreyScans) => SurveyAsked>> = {
  'a second, darker sheet': (scans) => ({ ...only(scans), by: darker(scans) }),
  "the paper's range, told right": (scans) => ({
    ...only(scans),
    by: { rangeR: scans.rangeR, spreadR: 7 },
  }),
  'no border, a darker sheet, turned': (scans) => ({
    ...only(scans),
    turned: scans.scanOf(0, true),
    by: darker(scans),
  }),
};

const only = (scans: GreyScans) => ({ grey: scans.scanOf(), device: 'flatbed' as const });
const darker = (scans: GreyScans) => ({ darker: scans.scanOf(0.5), stops: 0.5 });

/** What a grey sheet tells of the light on the easel. */
export function surveysRead(): Section {
  return {
    title: 'The light on the easel from a grey sheet',
    about:
      `${SHEETS} seeded sheets a row (SHEETS=300 for more) of the virtual darkroom, which is the ground truth: no real sheet was surveyed. A lens 250 to 500 mm over ` +
      'a sheet of 240 x 180 mm, tilted by up to 2.5 % each way, paper of ISO R 60 to 160 developed unevenly by 0.6 %, a flatbed 1 % uneven. Tilt is what ' +
      'one edge lies nearer to the lens than the other. Goal: the printed 95 % intervals right in 93 to 97 of 100.',
    columns: [
      'told by',
      'surveyed',
      'corner off, 1 sigma, stop',
      'places in the interval',
      'tilt off, 1 sigma, mm',
      'slopes in the interval',
      'refused as',
    ],
    rows: Object.entries(ways).map(([what, asked]) => [what, ...cells(asked, !what.startsWith('no border'))]),
  };
}

interface Off {
  readonly off: number;
  readonly isIn: boolean;
}

function cells(asked: (scans: GreyScans) => SurveyAsked, border: boolean): string[] {
  const surveys = Array.from({ length: SHEETS }, (_, at) => {
    const scans = greyScans(new Random(scatteredSeed(FIRST_SEED + at)), { border });
    return { scans, ...surveyLight(asked(scans)) };
  });
  const read = surveys.flatMap(({ scans, figures }) => (figures === undefined ? [] : [{ scans, figures }]));
  const places = read.flatMap(placesOff);
  const corners = read.flatMap((each) => placesOff(each).filter(({ name }) => name.includes(' ')));
  const tilts = read.flatMap(tiltsOff);
  return [
    `${read.length} of ${SHEETS}`,
    sigma(corners).toFixed(3),
    percent(share(places)),
    sigma(tilts).toFixed(1),
    percent(share(tilts)),
    [...new Set(surveys.flatMap(({ refused }) => refused ?? []))].join(', '),
  ];
}

interface Read {
  readonly scans: GreyScans;
  readonly figures: SurveyFigures;
}

function placesOff({ scans, figures }: Read): (Off & { name: string })[] {
  return Object.entries(sheetPlaces).map(([name, [across, down]]) => {
    const truth = scans.truthAt(across, down);
    const told = figures.places[name as keyof typeof sheetPlaces];
    return { name, off: told.value - truth, isIn: has(told, truth) };
  });
}

/** By what one edge lies nearer to the lens than the other. */
function tiltsOff({ scans: { easel }, figures: { slope } }: Read): Off[] {
  const tilt = (along: Interval, truthMm: number): Off => {
    const mm = (stops: number) => riseOfSlopeMm(stops, easel.lensHeightMm);
    const ends = [mm(along.low), mm(along.high)];
    const isIn = Math.min(...ends) <= truthMm && truthMm <= Math.max(...ends);
    return { off: mm(along.value) - truthMm, isIn };
  };
  return [
    tilt(slope.across, easel.riseAcross * SHEET_MM.across),
    tilt(slope.down, easel.riseDown * SHEET_MM.down),
  ];
}

const has = ({ low, high }: Interval, truth: number) => low <= truth && truth <= high;
const share = (all: readonly Off[]) => all.filter(({ isIn }) => isIn).length / all.length;
const sigma = (all: readonly Off[]) =>
  Math.sqrt(all.reduce((sum, { off }) => sum + off ** 2, 0) / all.length);

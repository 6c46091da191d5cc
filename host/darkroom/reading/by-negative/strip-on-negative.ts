import { type EaselTie, easelLog, usualEasel } from '../../light/film-light.js';
import type { Negative } from '../../negative/negative.js';
import { LEAST_LIGHT } from '../light.js';
import type { PatchPlace } from '../patch-tones.js';
import { StripRefused } from '../refusal.js';
import { onNegative, type PlaceOf } from '../registration/placement.js';
import { LEAST_LIKENESS, type Registration, register } from '../registration/register.js';
import { made, madeSmall, type Tones, toneAt } from '../registration/tones.js';
import type { StripScan } from '../strip-scan.js';
import { turned, type Upright } from '../upright.js';
import { type FoundEdges, findEdges } from './edges-on-negative.js';

/** A strip of a picture whose place on its negative is known, and the edges of its patches. */
export interface StripOnNegative {
  readonly registration: Registration;
  readonly picture: Upright;
  readonly places: readonly PatchPlace[];
  /** log10 of the film's transmittance for a pixel of the upright picture; NaN beyond the film. */
  readonly filmAt: (x: number, y: number) => number;
  /** The same, of the whole frame, some of many. */
  readonly film: Float32Array;
  readonly miss: number;
}

const GRID_PIXELS = 280;
const ROUGH_PIXELS = 120;
const FRAME_PIXELS = 900;

/** @throws StripRefused where the strip is none of this negative's. */
export function stripOnNegative(
  scan: StripScan,
  rough: number,
  negative: Negative,
  dosesMs: readonly number[],
): StripOnNegative {
  const doseLogs = dosesMs.map(Math.log10);
  const film = filmOf(negative);
  const strip = stripTones(scan, rough);
  const registration = register(strip, film);
  if (registration.likeness < LEAST_LIKENESS) throw new StripRefused('unlike-negative');
  const place = onNegative(registration.placement, scan, film);
  const small = madeSmall(film, 60).tones;
  const way = likeliestWay(strip, film, registration, doseLogs, small);
  if (way === undefined) throw new StripRefused('unlike-negative');
  const picture = turned(scan, way.along, way.mirrored);
  const found = edgesOf(strip, film, registration, way, GRID_PIXELS, doseLogs, small);
  if (found === undefined || found.miss > MOST_MISS) throw new StripRefused('unlike-negative');
  if (!areAlike(found.edges)) throw new StripRefused('fewer-patches');
  const cell = picture.width / found.columns;
  const filmAt = inUpright(picture, place, film);
  return { registration, picture, filmAt, film: small, miss: found.miss, places: placesOf(found, cell) };
}

/** Densities that strips of their own negative lie off by, at most. */
const MOST_MISS = 0.1;

/** A patch that is much narrower than the others is half of a real one, and its neighbours are not what they seem. */
function areAlike(edges: readonly number[]): boolean {
  const widths = edges.slice(1).map((edge, at) => edge - edges[at]!);
  const usual = [...widths].sort((one, other) => one - other)[Math.floor(widths.length / 2)]!;
  return widths.every((width) => width > NARROWEST * usual && width < usual / NARROWEST);
}
const NARROWEST = 0.65;

function filmOf(negative: Negative): Tones {
  const { width, height, samples, logTransmittance } = negative;
  const tones = Float32Array.from(samples, (code) => logTransmittance[code]!);
  return madeSmall({ width, height, tones }, FRAME_PIXELS);
}

function stripTones({ width, height, light }: StripScan, rough: number): Tones {
  const tones = light.map((each) => Math.log10(rough / Math.max(LEAST_LIGHT, each)));
  return madeSmall({ width, height, tones }, 2 * GRID_PIXELS);
}

interface Way {
  readonly along: 'x' | 'y';
  readonly mirrored: boolean;
}

const ways: readonly Way[] = (['x', 'y'] as const).flatMap((along) =>
  [false, true].map((mirrored) => ({ along, mirrored })),
);

/**
 * The patches may follow each other along any side: the one on which film and light together explain the tones. Undefined where another
 * explains them nearly as well.
 */
function likeliestWay(
  strip: Tones,
  film: Tones,
  registration: Registration,
  doseLogs: readonly number[],
  some: Float32Array,
): Way | undefined {
  const found = ways
    .map((way) => ({ way, edges: edgesOf(strip, film, registration, way, ROUGH_PIXELS, doseLogs, some) }))
    .filter(({ edges }) => edges !== undefined)
    .sort((one, other) => one.edges!.miss - other.edges!.miss);
  const [best, next] = found;
  if (best === undefined || (next !== undefined && next.edges!.miss < CLEARLY * best.edges!.miss))
    return undefined;
  return best.way;
}
/** So much worse must any other side be: by 1.1 it was where an all but white strip was read from its dark end, by 2.3 and more where rightly. */
const CLEARLY = 1.5;

function edgesOf(
  strip: Tones,
  film: Tones,
  { placement }: Registration,
  way: Way,
  pixels: number,
  doseLogs: readonly number[],
  some: Float32Array,
): FoundEdges | undefined {
  const share = Math.min(1, pixels / Math.max(strip.width, strip.height));
  const small = made(strip, Math.round(strip.width * share), Math.round(strip.height * share));
  const times = Math.min(1, pixels / placement.scale / Math.max(film.width, film.height));
  const negative = made(film, Math.round(film.width * times), Math.round(film.height * times));
  const { width, height } = small;
  const density = turned({ width, height, light: small.tones }, way.along, way.mirrored);
  const filmAt = inUpright(density, onNegative(placement, small, negative), negative);
  const usual: EaselTie = usualEasel;
  const lightLog = easelLog(usual, some);
  const light = Float32Array.from({ length: width * height }, (_, at) =>
    lightLog(filmAt(at % density.width, Math.floor(at / density.width))),
  );
  return findEdges(
    { columns: density.width, rows: density.height, density: density.light, lightLog: light },
    doseLogs,
  );
}

function inUpright({ inScan }: Upright, place: PlaceOf, film: Tones): (x: number, y: number) => number {
  return (x, y) => toneAt(film, ...place(...inScan(x, y)));
}

function placesOf({ edges, topRow, bottomRow, lean }: FoundEdges, cell: number): PatchPlace[] {
  return edges.slice(1).map((right, at) => ({
    left: edges[at]! * cell,
    right: right * cell,
    top: topRow * cell,
    bottom: bottomRow * cell,
    lean,
  }));
}

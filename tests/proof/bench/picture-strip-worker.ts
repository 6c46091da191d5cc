import { parentPort, workerData } from 'node:worker_threads';
import { baseByTie } from '../../../host/darkroom/negative/base-by-tie.js';
import { filmTones } from '../../../host/darkroom/negative/tied.js';
import { filmTieOf } from '../../../host/darkroom/reading/by-negative/film-tie-of.js';
import { spotOf } from '../../../host/darkroom/reading/by-negative/read-by-negative.js';
import type { Interval } from '../../../host/darkroom/reading/strip-figures.js';
import { madeNegative, scannedNegative } from '../../host/darkroom/reading/made-negative.js';
import { normal } from '../../host/darkroom/reading/normal.js';
import {
  baseStops,
  edgesFound,
  type PictureTrial,
  type PictureWishes,
  pictureTrial,
  registrationOff,
} from '../../host/darkroom/reading/picture-trials.js';
import { Random, scatteredSeed } from '../../setup/random.js';
import type { SeedsTask } from './by-seeds.js';

/** What was read of one strip with a picture, and what that told of the next negative. */
export interface PictureTold {
  readonly seed: number;
  readonly refused: string | null;
  readonly read: PictureRead | undefined;
}

export interface PictureRead {
  readonly registrationOff: number;
  readonly edges: { readonly found: number; readonly all: number };
  readonly base: Miss;
  readonly isoR: Miss | undefined;
  readonly next: Miss | undefined;
}

/** What a figure is off by, and whether the truth lies in its interval. */
export interface Miss {
  readonly off: number;
  readonly isInside: boolean;
  readonly halfWidth: number;
}

const { wishes, seeds } = workerData as SeedsTask<PictureWishes>;
parentPort!.postMessage(seeds.map((seed) => told(seed, pictureTrial(scatteredSeed(seed), wishes))));

function told(seed: number, trial: PictureTrial): PictureTold {
  const { reading, truth } = trial;
  if (reading.refused !== null) return { seed, refused: reading.refused, read: undefined };
  const { base, isoR } = reading.byNegative!;
  return {
    seed,
    refused: null,
    read: {
      registrationOff: registrationOff(trial),
      edges: edgesFound(trial),
      base: missOf(base!, truth.baseStops),
      isoR: isoR && missOf(isoR, truth.rangeR),
      next: nextNegative(trial),
    },
  };
}

function nextNegative({ seed, reading, easel, scanner }: PictureTrial): Miss | undefined {
  const tie = filmTieOf(reading.byNegative!, '');
  if (tie === undefined) return undefined;
  const random = new Random(seed + 700_000);
  const film = madeNegative(random);
  const again = { ...scanner, offset: scanner.offset + 0.01 * normal(random) };
  const negative = scannedNegative(film, again);
  const tonight = { ...easel, speedMs: easel.speedMs * 2 ** (0.03 * normal(random)) };
  const base = baseByTie(tie, filmTones(negative), spotOf({ negative }));
  return missOf(base, baseStops(film, tonight, again, negative));
}

function missOf({ value, low, high }: Interval, truth: number): Miss {
  return { off: value - truth, isInside: low <= truth && truth <= high, halfWidth: (high - low) / 2 };
}

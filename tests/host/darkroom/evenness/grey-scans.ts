import { type EaselUnderLens, easelLightStops } from '../../../../host/darkroom/light/easel-light.js';
import { lightOfSrgb } from '../../../../host/darkroom/negative/negative.js';
import { ValueNoise } from '../../../../host/darkroom/negative/value-noise.js';
import { Paper } from '../../../../host/darkroom/paper/paper.js';
import { Random } from '../../../setup/random.js';
import { normal } from '../reading/normal.js';
import { type Device, seenBy, type Trouble } from '../reading/scanner-model.js';

/** Scans of grey sheets of the virtual darkroom, of which all is known. */
export interface GreyScans {
  readonly easel: EaselUnderLens;
  readonly rangeR: number;
  readonly aspect: number;
  /** In stops from the middle, -1 to 1 from edge to edge. */
  readonly truthAt: (across: number, down: number) => number;
  readonly scanOf: (extraStops?: number, turned?: boolean, trouble?: Trouble) => Scan;
}

export interface Scan {
  readonly width: number;
  readonly height: number;
  readonly codes: Uint8Array;
  readonly light: Float32Array;
}

export interface GreyWishes {
  readonly easel?: EaselUnderLens;
  readonly border?: boolean;
  readonly size?: number;
  readonly grey?: number;
  readonly device?: Device;
  readonly rangeR?: number;
  /** Density that lies on the grey, -1 to 1 from edge to edge: a picture, a streak. */
  readonly onIt?: (across: number, down: number) => number;
}

const BASE_DENSITY = 0.05;

/** Sheet, paper, scanner and what the developer did unevenly follow from the seed of `random`. */
export function greyScans(random: Random, wishes: GreyWishes = {}): GreyScans {
  const { size = 240, border = true, grey = 0.45 + 0.5 * random.share(), onIt = () => 0 } = wishes;
  const easel = wishes.easel ?? anyEasel(random);
  const rangeR = wishes.rangeR ?? 60 + 100 * random.share();
  const filters = {
    '': { speedP: 200, rangeR },
    hard: { speedP: 200, rangeR: Math.max(45, rangeR - 30 * random.below(2)) },
  };
  const paper = new Paper({
    name: 'made up',
    baseDensity: BASE_DENSITY,
    maximumDensity: 2 + 0.2 * random.share(),
    filters,
  });
  const sheet = { widthMm: 240, heightMm: 180 };
  const truthAt = (across: number, down: number) =>
    easelLightStops(easel, (across * sheet.widthMm) / 2, (down * sheet.heightMm) / 2);
  const curve = tableOf(paper);
  const middle = logExposureOf(paper, grey + BASE_DENSITY);
  const width = size;
  const height = Math.round(0.77 * size);
  const blades = border ? Math.round(0.04 * size) : 0;
  const scanner = random.below(1_000_000);
  const sheets = new Map<number, { clumps: ValueNoise; given: number }>();
  const sheetGiven = (extraStops: number) => {
    const made = sheets.get(extraStops) ?? {
      clumps: new ValueNoise(random.below(1_000_000)),
      given: extraStops + 0.0145 * normal(random),
    };
    sheets.set(extraStops, made);
    return made;
  };
  const scanOf = (extraStops = 0, turned = false, trouble?: Trouble): Scan => {
    const { clumps, given } = sheetGiven(extraStops);
    const density = new Float32Array(width * height);
    for (let y = blades; y < height - blades; y++)
      for (let x = blades; x < width - blades; x++) {
        const place = [
          (2 * (x + 0.5 - width / 2)) / (width - 2 * blades),
          (2 * (y + 0.5 - height / 2)) / (height - 2 * blades),
        ] as const;
        const [across, down] = turned ? [-place[0], -place[1]] : place;
        const log = middle + Math.log10(2) * (truthAt(across, down) + given);
        const developed = 1 + 0.006 * clumps.smooth(2 * across + 9, 2 * down + 9);
        density[y * width + x] = developed * curve(log) + onIt(across, down);
      }
    const codes = seenBy(
      new Random(scanner),
      wishes.device ?? 'flatbed',
      { width, height, density },
      trouble,
    );
    return { width, height, codes, light: Float32Array.from(codes, (code) => LIGHT[code]!) };
  };
  return { easel, rangeR, aspect: (width - 2 * blades) / (height - 2 * blades), truthAt, scanOf };
}

const LIGHT = Array.from({ length: 256 }, (_, code) => lightOfSrgb(code / 255));

function anyEasel(random: Random): EaselUnderLens {
  const rise = () => 0.05 * (random.share() - 0.5);
  return { lensHeightMm: random.between(250, 500), riseAcross: rise(), riseDown: rise() };
}

/** Density above white, of log exposures that lie close together: a sheet has many pixels. */
function tableOf(paper: Paper): (logExposure: number) => number {
  const [from, step] = [-3, 0.006];
  const densities = Float64Array.from(
    { length: 1000 },
    (_, at) => paper.densityAt('', from + at * step) - BASE_DENSITY,
  );
  return (logExposure) => {
    const at = Math.floor((logExposure - from) / step);
    const share = (logExposure - from) / step - at;
    return densities[at]! + share * (densities[at + 1]! - densities[at]!);
  };
}

function logExposureOf(paper: Paper, density: number): number {
  let [low, high] = [-3, 4];
  for (let round = 0; round < 50; round++) {
    const middle = (low + high) / 2;
    if (paper.densityAt('', middle) < density) low = middle;
    else high = middle;
  }
  return low;
}

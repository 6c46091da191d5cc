import { Paper, type PaperFigures } from '../../../../host/darkroom/paper/paper.js';
import type { KeptStripReading } from '../../../../host/darkroom/profile/kept-reading.js';
import { type PaperProfile, profileFrom } from '../../../../host/darkroom/profile/paper-profile.js';
import { noiseOf, readStrip } from '../../../../host/darkroom/reading/read-strip.js';
import { Random, scatteredSeed } from '../../../setup/random.js';
import { madeStrip } from '../reading/made-strip.js';
import { normal } from '../reading/normal.js';
import { scanOf } from '../reading/reading-trials.js';
import { type Device, drawnScanner, type Scanner } from '../reading/scanner-model.js';

/** A paper of the virtual darkroom, graded or with filters, the scanner of its printer, and the light that a meter said and that there was. */
export interface PaperTrial {
  readonly paper: Paper;
  readonly scanner: Scanner;
  readonly device: Device;
  readonly lux: number;
  readonly metered: number;
}

const METER_LOG = 0.04;

export function drawnPaper(random: Random, device: Device): PaperTrial {
  const maximumDensity = 1.95 + 0.3 * random.share();
  const speedP = 100 + 400 * random.share();
  const lux = 0.15 + 0.5 * random.share();
  const filters = random.chance(0.4) ? gradedFigures(random, speedP) : filterFigures(random, speedP);
  return {
    paper: new Paper({ name: 'made up', baseDensity: 0.05, maximumDensity, filters }),
    scanner: drawnScanner(random, device),
    device,
    lux,
    metered: lux * 10 ** (METER_LOG * normal(random)),
  };
}

function gradedFigures(random: Random, speedP: number): PaperFigures['filters'] {
  return { '': { speedP, rangeR: 55 + 95 * random.share() } };
}

function filterFigures(random: Random, speedP: number): PaperFigures['filters'] {
  const hardest = 45 + 30 * random.share();
  const soft = 130 + 50 * random.share();
  return {
    '00': { speedP, rangeR: soft },
    '2': { speedP: speedP * (0.8 + 0.4 * random.share()), rangeR: (hardest + soft) / 2 },
    '5': { speedP: speedP / (1.5 + random.share()), rangeR: hardest },
  };
}

/** Strips of that paper through one filter, as they are kept; those that are refused are made once more. */
export function keptStrips(
  random: Random,
  { paper, scanner, device, lux, metered }: PaperTrial,
  filter: string,
  count: number,
  size = 300,
): KeptStripReading[] {
  const kept: KeptStripReading[] = [];
  while (kept.length < count) {
    const strip = madeStrip(random, { device, scanner, of: { paper, filter, lux }, size });
    const { dosesMs } = strip;
    const { refused, patches } = readStrip(scanOf(strip, device), { dosesMs, tone: 0.6, device });
    if (refused !== null) continue;
    kept.push({
      kind: 'strip',
      filter,
      device,
      light: 'one evening',
      lux: metered,
      scan: `strip-${kept.length + 1}.png`,
      patches: patches.map((patch) => ({
        doseMs: patch.doseMs,
        density: patch.density,
        noise: noiseOf(patch),
      })),
    });
  }
  return kept;
}

export function profileOf(readings: readonly KeptStripReading[]): PaperProfile {
  return profileFrom(readings.map((body) => ({ body, keptMs: 0 })))!;
}

export interface ProfileTally {
  readonly papers: number;
  readonly rangesTold: number;
  readonly sigmaR: number;
  readonly insideR: number;
  readonly speedsTold: number;
  /** In stops. */
  readonly sigmaSpeed: number;
  readonly insideSpeed: number;
  readonly halfR: number;
  readonly leftOut: number;
}

export function profileTally(seeds: readonly number[], strips: number, device: Device): ProfileTally {
  const ranges: { off: number; inside: boolean; half: number }[] = [];
  const speeds: { off: number; inside: boolean }[] = [];
  let leftOut = 0;
  for (const seed of seeds) {
    const random = new Random(scatteredSeed(seed));
    const drawn = drawnPaper(random, device);
    const filter = random.pick(Object.keys(drawn.paper.figures.filters));
    const profile = profileOf(keptStrips(random, drawn, filter, strips));
    const { rangeR, speedP } = profile.filters[0]!;
    const truth = drawn.paper.figures.filters[filter]!;
    leftOut += profile.strips.filter(({ state }) => state !== 'taken').length;
    if (rangeR !== undefined)
      ranges.push({
        off: rangeR.value - truth.rangeR,
        inside: rangeR.low <= truth.rangeR && truth.rangeR <= rangeR.high,
        half: (rangeR.high - rangeR.low) / 2,
      });
    if (speedP !== undefined)
      speeds.push({
        off: Math.log2(speedP.value / truth.speedP),
        inside: speedP.low <= truth.speedP && truth.speedP <= speedP.high,
      });
  }
  const share = (each: readonly { inside: boolean }[]) =>
    each.filter(({ inside }) => inside).length / each.length;
  return {
    papers: seeds.length,
    rangesTold: ranges.length,
    sigmaR: rootMeanSquare(ranges.map(({ off }) => off)),
    insideR: share(ranges),
    speedsTold: speeds.length,
    sigmaSpeed: rootMeanSquare(speeds.map(({ off }) => off)),
    insideSpeed: share(speeds),
    halfR: rootMeanSquare(ranges.map(({ half }) => half)),
    leftOut,
  };
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

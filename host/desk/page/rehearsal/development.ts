import { type GreyPicture, greyOfDensity } from '../../../darkroom/picture/grey.js';

/** Of its time in the developer, what goes by before anything shows: from memory, no source. */
const UNSEEN_SHARE = 1 / 8;
/** How much faster it comes up at first than at the end: from memory, no source. */
const HASTE = 4;

/** How far a sheet has come up after a share of its time in the developer: 0 is white, 1 as it will be. */
export function shareComeUp(shareOfTime: number): number {
  const seen = Math.min(1, Math.max(0, (shareOfTime - UNSEEN_SHARE) / (1 - UNSEEN_SHARE)));
  return (1 - Math.exp(-HASTE * seen)) / (1 - Math.exp(-HASTE));
}

/** The print when its densities above the paper's base have come up to that share: the darkest show first. */
export function comeUp({ width, height, pixels }: GreyPicture, share: number): GreyPicture {
  const greys = new Uint8Array(GREYS).fill(greyOfDensity(0, 0));
  for (let step = MOST_DENSITY * DENSITY_STEPS; step >= 0; step--)
    greys[greyOfDensity(step / DENSITY_STEPS, 0)] = greyOfDensity((share * step) / DENSITY_STEPS, 0);
  return { width, height, pixels: pixels.map((grey) => greys[grey]!) };
}

const GREYS = 256;
const MOST_DENSITY = 4;
const DENSITY_STEPS = 2048;

import type { ScanPixels } from './print-maker.js';

/** As many pixels as can be printed while something is being turned. */
const MOST_LIVE_PIXELS = 1_200_000;

/** Enough to see every area by where a sheet is worked out many times while the lamp is on. */
const MOST_REHEARSED_PIXELS = 160_000;

/** The scan with few enough pixels for that. */
export function liveSizeOf(scan: ScanPixels): ScanPixels {
  return withAtMost(MOST_LIVE_PIXELS, scan);
}

/** A copy for the rehearsal. */
export function rehearsedSizeOf(scan: ScanPixels): ScanPixels {
  const small = withAtMost(MOST_REHEARSED_PIXELS, scan);
  return small === scan ? { ...scan, samples: scan.samples.slice() } : small;
}

/** The scan with no more pixels than that: each the mean of a square of the scan's. */
function withAtMost(most: number, scan: ScanPixels): ScanPixels {
  const side = Math.ceil(Math.sqrt((scan.width * scan.height) / most));
  if (side <= 1) return scan;
  const width = Math.floor(scan.width / side);
  const height = Math.floor(scan.height / side);
  const samples = new Uint16Array(width * height);
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++)
      samples[row * width + column] = meanOf(scan, row * side, column * side, side);
  return { width, height, samples };
}

function meanOf({ width, samples }: ScanPixels, top: number, left: number, side: number): number {
  let sum = 0;
  for (let row = top; row < top + side; row++)
    for (let at = row * width + left; at < row * width + left + side; at++) sum += samples[at]!;
  return Math.round(sum / (side * side));
}

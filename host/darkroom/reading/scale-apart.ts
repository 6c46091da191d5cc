import { LEAST_LIGHT } from './light.js';
import type { StripScan } from './strip-scan.js';
import type { TonePlace } from './tone.js';

/** Of the scan that is kept, at least: the strip is not the smaller part of it. */
const LEAST_KEPT_SHARE = 0.4;
/** Of what is kept, the lightest that are no specks. */
const WHITE_SHARE = 0.97;
/** Between lid and paper lines are neither. */
const STRAY_LINES = 2;
/** A line of the lid scatters less, in log10 of light. */
const LID_SPREAD = 0.03;

interface Line {
  readonly across: boolean;
  /** Of the line, and the steps to the strip's side. */
  readonly at: number;
  readonly step: 1 | -1;
}

/**
 * The scan with white paper over the side of it where a grey scale lies beside the strip: once for each strip of bare lid that
 * parts the two, the one that leaves most of the scan first. All places of the scan stay as they are.
 */
export function withoutScale(scan: StripScan, { x, y }: TonePlace): StripScan[] {
  const lines: Line[] = [
    { across: false, at: Math.round(y), step: -1 },
    { across: false, at: Math.round(y), step: 1 },
    { across: true, at: Math.round(x), step: -1 },
    { across: true, at: Math.round(x), step: 1 },
  ];
  return lines
    .flatMap((line) => lastLid(scan, line) ?? [])
    .map((line) => ({ line, kept: keptShare(scan, line) }))
    .filter(({ kept }) => kept >= LEAST_KEPT_SHARE)
    .sort((one, other) => other.kept - one.kept)
    .map(({ line }) => covered(scan, line));
}

/** The line of bare lid that is next to the strip. */
function lastLid(scan: StripScan, { across, at, step }: Line): Line | undefined {
  const lines = across ? scan.width : scan.height;
  const isInside = (line: number) => line > 0 && line < lines - 1;
  let line = at;
  while (isInside(line) && !isLid(scan, across, line)) line += step;
  while (isInside(line + step) && isLid(scan, across, line + step)) line += step;
  return isInside(line) ? { across, at: line, step } : undefined;
}

function isLid({ width, height, light }: StripScan, across: boolean, line: number): boolean {
  const values = Float32Array.from({ length: across ? height : width }, (_, at) =>
    Math.max(LEAST_LIGHT, light[across ? at * width + line : line * width + at]!),
  );
  return Math.log10(quantile(values, 0.97) / quantile(values, 0.03)) < LID_SPREAD;
}

function quantile(values: Float32Array, share: number): number {
  const sorted = values.toSorted();
  return sorted[Math.floor(share * (sorted.length - 1))]!;
}

function keptShare({ width, height }: StripScan, { across, at, step }: Line): number {
  const share = at / (across ? width : height);
  return step < 0 ? share : 1 - share;
}

function covered(scan: StripScan, { across, at, step }: Line): StripScan {
  const { width } = scan;
  const isKept = (pixel: number) =>
    step * ((across ? pixel % width : Math.floor(pixel / width)) - at) > STRAY_LINES;
  const white = quantile(
    scan.light.filter((_, pixel) => isKept(pixel)),
    WHITE_SHARE,
  );
  return { ...scan, light: scan.light.map((each, pixel) => (isKept(pixel) ? each : white)) };
}

import { LEAST_LIGHT, type Light } from './light.js';

/** A part of an upright picture. */
export interface Inside {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** In log10 of the light: paper is as light as the lightest parts to this, dust and uneven light with it. */
export const NEARLY_WHITE = 0.12;
/** A border that changes by more from one place to the next has ended: what follows is a lid, or a table. */
const BORDER_ENDS = 0.02;
/** At the patches' edge it is dimmer, by blur. */
const BLURRED_SHARE = 0.012;
const SAMPLES = 120;

/** How far the white border reaches out from the patches on each side; where there is none it ends at the patches. */
export function whiteBorder(picture: Light, inside: Inside, gap: number, roughWhite: number): Inside {
  const { width, height } = picture;
  const across = rowLevels(picture, inside);
  const down = columnLevels(picture, inside);
  const reach = (levels: (at: number) => number, from: number, step: 1 | -1, end: number) =>
    reachOf({
      levels,
      from: Math.round(from),
      step,
      end,
      rough: Math.log10(roughWhite),
      least: blurred(width),
    });
  return {
    top: reach(across, inside.top - gap, -1, 1) ?? inside.top - gap,
    bottom: reach(across, inside.bottom + gap, 1, height - 2) ?? inside.bottom + gap,
    left: reach(down, inside.left - gap, -1, 1) ?? inside.left - gap,
    right: reach(down, inside.right + gap, 1, width - 2) ?? inside.right + gap,
  };
}

function blurred(width: number): number {
  return Math.max(3, Math.round(width * BLURRED_SHARE));
}

interface Outwards {
  readonly levels: (at: number) => number;
  readonly from: number;
  readonly step: 1 | -1;
  readonly end: number;
  readonly rough: number;
  readonly least: number;
}

function reachOf({ levels, from, step, end, rough, least }: Outwards): number | undefined {
  const isInFrame = (at: number) => (step > 0 ? at <= end : at >= end);
  let level = Number.NEGATIVE_INFINITY;
  let at = from;
  for (let taken = 0; taken < least && isInFrame(at); taken++, at += step)
    level = Math.max(level, levels(at));
  if (!(Math.abs(level - rough) < NEARLY_WHITE)) return undefined;
  while (isInFrame(at) && Math.abs(levels(at) - level) < BORDER_ENDS) at += step;
  return at - step;
}

function rowLevels({ width, light }: Light, { left, right }: Inside): (row: number) => number {
  const columns = places(Math.max(0, left), Math.min(width - 1, right));
  return (row) => median(columns.map((column) => light[row * width + column]!));
}

function columnLevels({ width, height, light }: Light, { top, bottom }: Inside): (column: number) => number {
  const rows = places(Math.max(0, top), Math.min(height - 1, bottom));
  return (column) => median(rows.map((row) => light[row * width + column]!));
}

function places(from: number, to: number): number[] {
  return Array.from({ length: SAMPLES }, (_, at) => Math.floor(from + ((to - from) * (at + 0.5)) / SAMPLES));
}

function median(values: number[]): number {
  const sorted = values.sort((one, other) => one - other);
  return Math.log10(Math.max(LEAST_LIGHT, sorted[sorted.length >> 1]!));
}

import { gridOf } from '../reading/upright.js';
import { SurveyRefused } from './evenness-refusal.js';

export interface Light {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
}

/** Pixels of the picture. */
export interface Rectangle {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Between neighbouring places of the grid light falls off far less than it changes at the edge of the grey. */
const EDGE_DENSITY = 0.1;
const LEAST_SHARE = 0.4;

/** What was exposed: from the middle as far as the grey goes on. @throws SurveyRefused where that is not most of the picture */
export function greyArea(picture: Light): Rectangle {
  const { columns, rows, density, cell } = gridOf(picture, 1);
  const across = medians(columns, middle(rows), (column, row) => density[row * columns + column]!);
  const down = medians(rows, middle(columns), (row, column) => density[row * columns + column]!);
  const [left, right] = evenStretch(across, Math.max(1, Math.round(columns / 100)));
  const [top, bottom] = evenStretch(down, Math.max(1, Math.round(rows / 100)));
  if (right - left < LEAST_SHARE * columns || bottom - top < LEAST_SHARE * rows)
    throw new SurveyRefused('no-sheet');
  return {
    left: left * cell[0],
    right: right * cell[0],
    top: top * cell[1],
    bottom: bottom * cell[1],
  };
}

function middle(count: number): readonly [from: number, to: number] {
  return [Math.floor(count * 0.3), Math.ceil(count * 0.7)];
}

function medians(
  count: number,
  [from, to]: readonly [number, number],
  at: (index: number, other: number) => number,
): number[] {
  return Array.from({ length: count }, (_, index) =>
    median(Array.from({ length: to - from }, (_each, other) => at(index, from + other))),
  );
}

function median(values: number[]): number {
  return values.sort((one, other) => one - other)[values.length >> 1]!;
}

/** From the middle to the first jump either way; an edge may lie across `blur` places. */
function evenStretch(profile: readonly number[], blur: number): [from: number, to: number] {
  const start = profile.length >> 1;
  const isEdge = (at: number, next: number) => Math.abs(profile[next]! - profile[at]!) > EDGE_DENSITY;
  let to = start;
  while (to + blur < profile.length && !isEdge(to, to + blur)) to++;
  let from = start;
  while (from - blur >= 0 && !isEdge(from, from - blur)) from--;
  const atEnd = to + blur >= profile.length;
  const atStart = from - blur < 0;
  return [atStart ? 0 : from - (blur - 1) / 2, atEnd ? profile.length : to + 1 + (blur - 1) / 2];
}

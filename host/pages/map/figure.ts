import { textWidth } from '../page-text.js';
import { element, textAt } from '../svg.js';
import { type AreaKind, areaDrawing, type Frame, hatchPattern, markPoint } from './area-drawing.js';
import type { WorkArea } from './work.js';

/** A picture of the print to draw over: a PNG as base64, already pale. */
export interface Backdrop {
  readonly pngBase64: string;
  /** Width / height. */
  readonly aspect: number;
}

const MARK_RADIUS_MM = 2.9;
const CROWDED_RADIUS_MM = 2.1;
const CAPTION_SIZE_MM = 3.5;
const clipId = 'print-outline';

/** The print's outline with its areas, each with its number and what is done there. */
export function printFigure(areas: readonly WorkArea[], frame: Frame, backdrop?: Backdrop): string {
  const { leftMm, topMm, widthMm, heightMm } = frame;
  const box = { x: leftMm, y: topMm, width: widthMm, height: heightMm };
  const clip = element('clipPath', { id: clipId }, element('rect', box));
  const picture =
    backdrop === undefined
      ? ''
      : element('image', {
          ...box,
          preserveAspectRatio: 'none',
          href: `data:image/png;base64,${backdrop.pngBase64}`,
        });
  // Burns first, so that the white of a dodge stays white where they overlap.
  const ordered = [...areas].sort((a, b) => Number(a.kind === 'dodge') - Number(b.kind === 'dodge'));
  const drawn = ordered.map(({ kind, shape }) => (shape ? areaDrawing(kind, shape, frame) : '')).join('');
  return (
    element('defs', {}, hatchPattern() + clip) +
    picture +
    element('g', { 'clip-path': `url(#${clipId})`, fill: 'none' }, drawn) +
    element('rect', { ...box, fill: 'none', stroke: '#000', 'stroke-width': 0.7 }) +
    marks(areas, frame)
  );
}

interface Mark {
  readonly area: WorkArea;
  readonly x: number;
  readonly y: number;
  /** Crowded marks do without one: their numbers are in the order of work. */
  readonly captioned: boolean;
}

/** A number in a circle with a caption below it; a mark that would cover an earlier one moves up or down. */
function marks(areas: readonly WorkArea[], frame: Frame): string {
  const placed: Mark[] = [];
  for (const area of areas) {
    if (area.shape === undefined) continue;
    const [x, y] = markPoint(area.shape, frame);
    const free =
      captionWidth(area) < frame.widthMm * WIDEST_CAPTION_SHARE
        ? freeHeight(placed, area, x, y, frame)
        : undefined;
    placed.push({ area, x, y: free ?? y, captioned: free !== undefined });
  }
  return placed.map((mark) => markDrawing(mark, frame)).join('');
}

const MARK_HEIGHT_MM = 2 * MARK_RADIUS_MM + CAPTION_SIZE_MM + 1.4;
const WIDEST_CAPTION_SHARE = 0.6;

function freeHeight(
  placed: readonly Mark[],
  area: WorkArea,
  x: number,
  y: number,
  frame: Frame,
): number | undefined {
  const highest = frame.topMm + MARK_RADIUS_MM + 0.5;
  const lowest = frame.topMm + frame.heightMm - MARK_HEIGHT_MM + MARK_RADIUS_MM;
  const start = Math.min(Math.max(y, highest), lowest);
  return [0, 1, -1]
    .map((step) => start + step * MARK_HEIGHT_MM)
    .find(
      (height) =>
        height >= highest && height <= lowest && !placed.some((mark) => collides(mark, area, x, height)),
    );
}

function collides(mark: Mark, area: WorkArea, x: number, y: number): boolean {
  const halfWidths = (captionWidth(mark.area) + captionWidth(area)) / 2;
  return Math.abs(mark.y - y) < MARK_HEIGHT_MM && Math.abs(mark.x - x) < halfWidths;
}

function caption(area: WorkArea): string {
  return `${area.label} ${area.stops}`;
}

function captionWidth(area: WorkArea): number {
  return Math.max(2 * MARK_RADIUS_MM, textWidth(caption(area), CAPTION_SIZE_MM)) + 1;
}

function markDrawing({ area, x, y, captioned }: Mark, frame: Frame): string {
  if (!captioned) return numberMark(area.kind, String(area.number), x, y, CROWDED_RADIUS_MM);
  const half = captionWidth(area) / 2;
  const textX = Math.min(frame.leftMm + frame.widthMm - half - 0.5, Math.max(frame.leftMm + half + 0.5, x));
  const textY = y + MARK_RADIUS_MM + CAPTION_SIZE_MM;
  const ground = element('rect', {
    x: textX - half,
    y: textY - CAPTION_SIZE_MM * 0.86,
    width: 2 * half,
    height: CAPTION_SIZE_MM * 1.16,
    fill: '#fff',
  });
  return (
    ground +
    numberMark(area.kind, String(area.number), x, y, MARK_RADIUS_MM) +
    textAt(textX, textY, CAPTION_SIZE_MM, caption(area), { 'text-anchor': 'middle' })
  );
}

/** A burn's number is white on black, a dodge's black on white: told apart without colour. */
export function numberMark(kind: AreaKind, number: string, x: number, y: number, radius: number): string {
  const burn = kind === 'burn';
  const circle = {
    cx: x,
    cy: y,
    r: radius,
    fill: burn ? '#000' : '#fff',
    stroke: '#000',
    'stroke-width': radius * 0.16,
  };
  if (number === '') return element('circle', circle);
  const words = { 'text-anchor': 'middle', 'font-weight': 'bold', fill: burn ? '#fff' : '#000' };
  return element('circle', circle) + textAt(x, y + radius * 0.44, radius * 1.24, number, words);
}

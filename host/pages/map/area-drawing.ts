import type { Edge, Ellipse, Polygon, Rectangle, Shape } from '../../recipe/shape.js';
import { coordinate, element } from '../svg.js';

/** Where the print lies on the page, in millimetres. */
export interface Frame {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Dodges are left white inside a dashed line; burns are hatched inside a full one. */
export type AreaKind = 'dodge' | 'burn';

export const hatchId = 'burn-hatch';

/** The pattern that burns are filled with: lines wide and far enough apart to survive a photocopier. */
export function hatchPattern(): string {
  const stroke = element('line', { x1: 0, y1: 0, x2: 0, y2: 2.6, stroke: '#000', 'stroke-width': 0.36 });
  return element(
    'pattern',
    { id: hatchId, width: 2.6, height: 2.6, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
    stroke,
  );
}

/** The drawing of one area, in page coordinates; what hangs over the print's edge is to be clipped. */
export function areaDrawing(kind: AreaKind, shape: Shape, frame: Frame): string {
  if (shape.kind === 'edge') return comb(kind, shape, frame);
  return outline(shape, frame, {
    fill: kind === 'burn' ? `url(#${hatchId})` : '#fff',
    'fill-opacity': kind === 'burn' ? undefined : 0.55,
    stroke: '#000',
    'stroke-width': 0.5,
    'stroke-dasharray': kind === 'dodge' ? '2 1.2' : undefined,
  });
}

function outline(
  shape: Rectangle | Ellipse | Polygon,
  frame: Frame,
  style: Record<string, string | number | undefined>,
): string {
  const x = (percent: number) => frame.leftMm + (percent / 100) * frame.widthMm;
  const y = (percent: number) => frame.topMm + (percent / 100) * frame.heightMm;
  switch (shape.kind) {
    case 'rectangle':
      return element('rect', {
        x: x(shape.leftPercent),
        y: y(shape.topPercent),
        width: (shape.widthPercent / 100) * frame.widthMm,
        height: (shape.heightPercent / 100) * frame.heightMm,
        rx: 1,
        ...style,
      });
    case 'ellipse': {
      const cx = x(shape.centreXPercent);
      const cy = y(shape.centreYPercent);
      const turned =
        shape.turnDegrees === 0
          ? undefined
          : `rotate(${shape.turnDegrees} ${coordinate(cx)} ${coordinate(cy)})`;
      const rx = (shape.widthPercent / 200) * frame.widthMm;
      const ry = (shape.heightPercent / 200) * frame.heightMm;
      return element('ellipse', { cx, cy, rx, ry, transform: turned, ...style });
    }
    case 'polygon': {
      const points = shape.pointsPercent
        .map(([px, py]) => `${coordinate(x(px))},${coordinate(y(py))}`)
        .join(' ');
      return element('polygon', { points, 'stroke-linejoin': 'round', ...style });
    }
  }
}

/** How far the teeth of the comb reach, in turn, as shares of the depth: more light near the edge. */
const TEETH = [1, 0.36, 0.68, 0.36];
const TOOTH_PITCH_MM = 2.8;

/** An edge as a comb whose teeth grow from it, most of them short: full at the edge, nothing at its depth. */
function comb(kind: AreaKind, edge: Edge, frame: Frame): string {
  const alongMm = edge.side === 'top' || edge.side === 'bottom' ? frame.widthMm : frame.heightMm;
  const count = Math.max(2, Math.round(alongMm / TOOTH_PITCH_MM));
  const teeth = Array.from({ length: count }, (_, tooth) => {
    const along = (tooth + 0.5) / count;
    const reach = (edge.depthPercent / 100) * TEETH[tooth % TEETH.length]!;
    const [fromX, fromY] = pointOfEdge(edge.side, along, 0, frame);
    const [toX, toY] = pointOfEdge(edge.side, along, reach, frame);
    return `M${coordinate(fromX)} ${coordinate(fromY)}L${coordinate(toX)} ${coordinate(toY)}`;
  });
  const [startX, startY] = pointOfEdge(edge.side, 0, edge.depthPercent / 100, frame);
  const [endX, endY] = pointOfEdge(edge.side, 1, edge.depthPercent / 100, frame);
  const dash = kind === 'dodge' ? '2 1.2' : undefined;
  const limit = element('path', {
    d: `M${coordinate(startX)} ${coordinate(startY)}L${coordinate(endX)} ${coordinate(endY)}`,
    stroke: '#000',
    'stroke-width': 0.35,
    'stroke-dasharray': '0.5 1.4',
  });
  return (
    limit +
    element('path', { d: teeth.join(''), stroke: '#000', 'stroke-width': 0.28, 'stroke-dasharray': dash })
  );
}

/** `along` the side from 0 to 1, `inward` as a share of the print across it. */
function pointOfEdge(side: Edge['side'], along: number, inward: number, frame: Frame): [number, number] {
  const { leftMm, topMm, widthMm, heightMm } = frame;
  switch (side) {
    case 'top':
      return [leftMm + along * widthMm, topMm + inward * heightMm];
    case 'bottom':
      return [leftMm + along * widthMm, topMm + (1 - inward) * heightMm];
    case 'left':
      return [leftMm + inward * widthMm, topMm + along * heightMm];
    case 'right':
      return [leftMm + (1 - inward) * widthMm, topMm + along * heightMm];
  }
}

/** Where an area's number goes: its middle, or for an edge a little inside it, and always on the print. */
export function markPoint(shape: Shape, frame: Frame): [number, number] {
  const [xPercent, yPercent] = middlePercent(shape);
  const onPrint = (percent: number) => Math.min(96, Math.max(4, percent)) / 100;
  return [frame.leftMm + onPrint(xPercent) * frame.widthMm, frame.topMm + onPrint(yPercent) * frame.heightMm];
}

function middlePercent(shape: Shape): [number, number] {
  switch (shape.kind) {
    case 'rectangle':
      return [shape.leftPercent + shape.widthPercent / 2, shape.topPercent + shape.heightPercent / 2];
    case 'ellipse':
      return [shape.centreXPercent, shape.centreYPercent];
    case 'polygon': {
      const count = shape.pointsPercent.length;
      const sum = (axis: 0 | 1) => shape.pointsPercent.reduce((total, point) => total + point[axis], 0);
      return [sum(0) / count, sum(1) / count];
    }
    case 'edge': {
      const inward = shape.depthPercent * 0.4;
      const middles = {
        top: [50, inward],
        bottom: [50, 100 - inward],
        left: [inward, 50],
        right: [100 - inward, 50],
      } as const;
      return [...middles[shape.side]];
    }
  }
}

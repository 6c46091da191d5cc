import { type Shape, shapeLimits } from '../../../recipe/shape.js';

const LOWEST_PERCENT = -shapeLimits.overhangPercent;
const HIGHEST_PERCENT = 100 + shapeLimits.overhangPercent;
const SMALLEST_PERCENT = 1;
const LEAST_CORNERS = 3;
const LARGEST_PERCENT = HIGHEST_PERCENT - LOWEST_PERCENT;

/** A point of the print, in per cent of its width and height. */
export type Point = readonly [x: number, y: number];

/** Tenths of a per cent: a millimetre on a sheet of a metre, and a file that can be read. */
function tidy(percent: number, least = LOWEST_PERCENT, most = HIGHEST_PERCENT): number {
  return Math.round(10 * Math.min(most, Math.max(least, percent))) / 10;
}

/** The shape elsewhere. An edge stays at its side and reaches in farther or less far. */
export function moved(shape: Shape, [x, y]: Point): Shape {
  switch (shape.kind) {
    case 'rectangle':
      return { ...shape, leftPercent: tidy(shape.leftPercent + x), topPercent: tidy(shape.topPercent + y) };
    case 'ellipse':
      return {
        ...shape,
        centreXPercent: tidy(shape.centreXPercent + x),
        centreYPercent: tidy(shape.centreYPercent + y),
      };
    case 'polygon':
      return { ...shape, pointsPercent: shape.pointsPercent.map(([px, py]) => [tidy(px + x), tidy(py + y)]) };
    case 'edge': {
      const inward = { top: y, bottom: -y, left: x, right: -x }[shape.side];
      return { ...shape, depthPercent: tidy(shape.depthPercent + inward, SMALLEST_PERCENT, 100) };
    }
  }
}

/** The shape larger or smaller by so much to the right and below. */
export function resized(shape: Shape, [x, y]: Point): Shape {
  switch (shape.kind) {
    case 'rectangle':
      return {
        ...shape,
        widthPercent: side(shape.widthPercent + x),
        heightPercent: side(shape.heightPercent + y),
      };
    case 'ellipse':
      return {
        ...shape,
        widthPercent: side(shape.widthPercent + 2 * x),
        heightPercent: side(shape.heightPercent + 2 * y),
      };
    case 'polygon': {
      const [left, top, right, bottom] = boxOf(shape.pointsPercent);
      const across = Math.max(0.05, 1 + x / Math.max(SMALLEST_PERCENT, right - left));
      const down = Math.max(0.05, 1 + y / Math.max(SMALLEST_PERCENT, bottom - top));
      return {
        ...shape,
        pointsPercent: shape.pointsPercent.map(([px, py]) => [
          tidy(left + (px - left) * across),
          tidy(top + (py - top) * down),
        ]),
      };
    }
    case 'edge':
      return moved(shape, [x, y]);
  }
}

/** One corner of a polygon elsewhere. */
export function withCorner(shape: Shape, corner: number, [x, y]: Point): Shape {
  if (shape.kind !== 'polygon') return shape;
  return {
    ...shape,
    pointsPercent: shape.pointsPercent.map(([px, py], at) =>
      at === corner ? [tidy(px + x), tidy(py + y)] : [px, py],
    ),
  };
}

/** A corner more, half way to the one that follows; a polygon may have so many. */
export function withNewCorner(shape: Shape, after: number): Shape {
  if (shape.kind !== 'polygon' || shape.pointsPercent.length >= shapeLimits.polygonPoints) return shape;
  const { pointsPercent: points } = shape;
  const [[x, y], [nextX, nextY]] = [points[after]!, points[(after + 1) % points.length]!];
  const corner: [number, number] = [tidy((x + nextX) / 2), tidy((y + nextY) / 2)];
  return { ...shape, pointsPercent: points.toSpliced(after + 1, 0, corner) };
}

/** Three stay. */
export function withoutCorner(shape: Shape, corner: number): Shape {
  if (shape.kind !== 'polygon' || shape.pointsPercent.length <= LEAST_CORNERS) return shape;
  return { ...shape, pointsPercent: shape.pointsPercent.toSpliced(corner, 1) };
}

function side(percent: number): number {
  return tidy(percent, SMALLEST_PERCENT, LARGEST_PERCENT);
}

/** The rectangle around points: left, top, right, bottom. */
export function boxOf(points: readonly Point[]): [number, number, number, number] {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Six corners: enough to follow an outline with. */
const FIRST_CORNERS = 6;

/** A shape of this kind between two points; an edge begins at the side that the first lies nearest to. */
export function shapeBetween(kind: Shape['kind'], from: Point, to: Point): Shape {
  const [left, top, right, bottom] = boxOf([from, to]);
  const [width, height] = [side(right - left), side(bottom - top)];
  const [centreX, centreY] = [(left + right) / 2, (top + bottom) / 2];
  const softPercent = shapeLimits.commonSoftPercent;
  switch (kind) {
    case 'rectangle':
      return {
        kind,
        leftPercent: tidy(left),
        topPercent: tidy(top),
        widthPercent: width,
        heightPercent: height,
        softPercent,
      };
    case 'ellipse':
      return {
        kind,
        centreXPercent: tidy(centreX),
        centreYPercent: tidy(centreY),
        widthPercent: width,
        heightPercent: height,
        turnDegrees: 0,
        softPercent,
      };
    case 'polygon':
      return {
        kind,
        pointsPercent: Array.from({ length: FIRST_CORNERS }, (_, corner) => {
          const angle = (2 * Math.PI * corner) / FIRST_CORNERS;
          return [
            tidy(centreX + (width / 2) * Math.cos(angle)),
            tidy(centreY + (height / 2) * Math.sin(angle)),
          ] as [number, number];
        }),
        softPercent,
      };
    case 'edge':
      return edgeBetween(from, to);
  }
}

function edgeBetween([fromX, fromY]: Point, [toX, toY]: Point): Shape {
  const sides = [
    ['top', fromY, toY],
    ['bottom', 100 - fromY, 100 - toY],
    ['left', fromX, toX],
    ['right', 100 - fromX, 100 - toX],
  ] as const;
  const [nearest, , depth] = [...sides].sort((a, b) => a[1] - b[1])[0]!;
  return { kind: 'edge', side: nearest, depthPercent: tidy(depth, SMALLEST_PERCENT, 100) };
}

/** Where a shape's box is, for its handle and its number; an edge's is the band that it takes. */
export function outlineBox(shape: Shape): [number, number, number, number] {
  switch (shape.kind) {
    case 'rectangle':
      return [
        shape.leftPercent,
        shape.topPercent,
        shape.leftPercent + shape.widthPercent,
        shape.topPercent + shape.heightPercent,
      ];
    case 'ellipse':
      return [
        shape.centreXPercent - shape.widthPercent / 2,
        shape.centreYPercent - shape.heightPercent / 2,
        shape.centreXPercent + shape.widthPercent / 2,
        shape.centreYPercent + shape.heightPercent / 2,
      ];
    case 'polygon':
      return boxOf(shape.pointsPercent);
    case 'edge': {
      const { side: at, depthPercent: depth } = shape;
      if (at === 'top') return [0, 0, 100, depth];
      if (at === 'bottom') return [0, 100 - depth, 100, 100];
      return at === 'left' ? [0, 0, depth, 100] : [100 - depth, 0, 100, 100];
    }
  }
}

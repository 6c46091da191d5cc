import type { Edge, Ellipse, Polygon, Rectangle, Shape } from '../../recipe/shape.js';

/** How much of the light a shape takes or lets through at a point: 0 outside, 1 well inside. */
export type Cover = (xPercent: number, yPercent: number) => number;

/**
 * The cover of `shape` on a print of `aspect` (width / height). Distances are measured in per cent of the
 * print's shorter side, so that a soft rim is equally wide across and along.
 */
export function coverOf(shape: Shape, aspect: number): Cover {
  if (shape.kind === 'edge') return edgeCover(shape);
  const scaleX = Math.max(1, aspect);
  const scaleY = Math.max(1, 1 / aspect);
  const depth = depthInside(shape, scaleX, scaleY);
  const soft = shape.softPercent;
  return (xPercent, yPercent) => smoothStep(depth(xPercent * scaleX, yPercent * scaleY) / soft + 0.5);
}

/** Rises smoothly from 0 at 0 to 1 at 1: what a tool in steady motion leaves, without a visible line. */
export function smoothStep(share: number): number {
  if (share <= 0) return 0;
  if (share >= 1) return 1;
  return share * share * (3 - 2 * share);
}

function edgeCover({ side, depthPercent }: Edge): Cover {
  const fromEdge = {
    top: (_x: number, y: number) => y,
    bottom: (_x: number, y: number) => 100 - y,
    left: (x: number) => x,
    right: (x: number) => 100 - x,
  }[side];
  return (xPercent, yPercent) => smoothStep(1 - fromEdge(xPercent, yPercent) / depthPercent);
}

/** Signed distance to the outline, positive inside. */
type Depth = (x: number, y: number) => number;

function depthInside(shape: Rectangle | Ellipse | Polygon, scaleX: number, scaleY: number): Depth {
  switch (shape.kind) {
    case 'rectangle':
      return rectangleDepth(shape, scaleX, scaleY);
    case 'ellipse':
      return ellipseDepth(shape, scaleX, scaleY);
    case 'polygon':
      return polygonDepth(shape.pointsPercent.map(([x, y]) => [x * scaleX, y * scaleY] as const));
  }
}

function rectangleDepth(shape: Rectangle, scaleX: number, scaleY: number): Depth {
  const halfWidth = (shape.widthPercent * scaleX) / 2;
  const halfHeight = (shape.heightPercent * scaleY) / 2;
  const centreX = shape.leftPercent * scaleX + halfWidth;
  const centreY = shape.topPercent * scaleY + halfHeight;
  return (x, y) => {
    const outX = Math.abs(x - centreX) - halfWidth;
    const outY = Math.abs(y - centreY) - halfHeight;
    return -(Math.min(Math.max(outX, outY), 0) + Math.hypot(Math.max(outX, 0), Math.max(outY, 0)));
  };
}

// To first order near the outline, which is where the rim lies; the exact distance needs a quartic.
function ellipseDepth(shape: Ellipse, scaleX: number, scaleY: number): Depth {
  const radiusX = (shape.widthPercent * scaleX) / 2;
  const radiusY = (shape.heightPercent * scaleY) / 2;
  const centreX = shape.centreXPercent * scaleX;
  const centreY = shape.centreYPercent * scaleY;
  const cosine = Math.cos((shape.turnDegrees * Math.PI) / 180);
  const sine = Math.sin((shape.turnDegrees * Math.PI) / 180);
  return (x, y) => {
    const alongX = (x - centreX) * cosine + (y - centreY) * sine;
    const alongY = (y - centreY) * cosine - (x - centreX) * sine;
    const reach = Math.hypot(alongX / radiusX, alongY / radiusY);
    const slope = Math.hypot(alongX / radiusX ** 2, alongY / radiusY ** 2);
    return slope === 0 ? Math.min(radiusX, radiusY) : (reach * (1 - reach)) / slope;
  };
}

type Point = readonly [x: number, y: number];

function polygonDepth(points: readonly Point[]): Depth {
  return (x, y) => {
    let nearest = Number.POSITIVE_INFINITY;
    let inside = false;
    for (let index = 0; index < points.length; index++) {
      const from = points[index]!;
      const to = points[(index + 1) % points.length]!;
      nearest = Math.min(nearest, distanceToSide(x, y, from, to));
      if (crossesRightOf(x, y, from, to)) inside = !inside;
    }
    return inside ? nearest : -nearest;
  };
}

function distanceToSide(x: number, y: number, from: Point, to: Point): number {
  const sideX = to[0] - from[0];
  const sideY = to[1] - from[1];
  const lengthSquared = sideX * sideX + sideY * sideY;
  const along = lengthSquared === 0 ? 0 : ((x - from[0]) * sideX + (y - from[1]) * sideY) / lengthSquared;
  const clamped = Math.min(1, Math.max(0, along));
  return Math.hypot(x - from[0] - clamped * sideX, y - from[1] - clamped * sideY);
}

/** Even-odd rule: does the ray from the point to the right cross this side? */
function crossesRightOf(x: number, y: number, from: Point, to: Point): boolean {
  if (from[1] > y === to[1] > y) return false;
  return x < from[0] + ((y - from[1]) * (to[0] - from[0])) / (to[1] - from[1]);
}

import { z } from 'zod';

/**
 * Areas of a print, for dodging and burning tools and for the printing map: where a hand or a card goes.
 * Positions are per cent of the print's width (x, from the left) and height (y, from the top); a shape may
 * hang over the print's edge. `softPercent`, the width of the blurred rim that a moving tool leaves, is in
 * per cent of the print's shorter side, centred on the outline.
 */
export const shapeLimits = {
  /** How far outside the print a shape may reach, in per cent of its side. */
  overhangPercent: 50,
  polygonPoints: 24,
  softPercent: 50,
  /** A tool held above the paper never gives a sharper rim than this. */
  leastSoftPercent: 0.5,
  commonSoftPercent: 4,
} as const;

const position = () =>
  z
    .number()
    .min(-shapeLimits.overhangPercent)
    .max(100 + shapeLimits.overhangPercent);
const size = () =>
  z
    .number()
    .positive()
    .max(100 + 2 * shapeLimits.overhangPercent);
const soft = () =>
  z
    .number()
    .min(shapeLimits.leastSoftPercent)
    .max(shapeLimits.softPercent)
    .default(shapeLimits.commonSoftPercent);
const turn = () => z.number().min(-180).max(180).default(0);

export const rectangleSchema = z.strictObject({
  kind: z.literal('rectangle'),
  leftPercent: position(),
  topPercent: position(),
  widthPercent: size(),
  heightPercent: size(),
  softPercent: soft(),
});

export const ellipseSchema = z.strictObject({
  kind: z.literal('ellipse'),
  centreXPercent: position(),
  centreYPercent: position(),
  widthPercent: size(),
  heightPercent: size(),
  /** Clockwise as seen on the print. */
  turnDegrees: turn(),
  softPercent: soft(),
});

export const polygonSchema = z.strictObject({
  kind: z.literal('polygon'),
  /** Corners in order, each `[x, y]`; the last joins the first. */
  pointsPercent: z
    .array(z.tuple([position(), position()]))
    .min(3)
    .max(shapeLimits.polygonPoints),
  softPercent: soft(),
});

export const edgeSchema = z.strictObject({
  kind: z.literal('edge'),
  side: z.enum(['top', 'bottom', 'left', 'right']),
  /** Full at the edge, none at this depth, in per cent of the side that it runs along. */
  depthPercent: z.number().positive().max(100),
});

export const shapeSchema = z.discriminatedUnion('kind', [
  rectangleSchema,
  ellipseSchema,
  polygonSchema,
  edgeSchema,
]);

/** A shape with every default filled in. */
export type Shape = z.output<typeof shapeSchema>;
/** A shape as a person writes it in a recipe. */
export type ShapeInput = z.input<typeof shapeSchema>;
export type Rectangle = z.output<typeof rectangleSchema>;
export type Ellipse = z.output<typeof ellipseSchema>;
export type Polygon = z.output<typeof polygonSchema>;
export type Edge = z.output<typeof edgeSchema>;

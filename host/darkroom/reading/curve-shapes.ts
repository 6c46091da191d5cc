import { BEND_WIDTH, bend, unbend } from '../paper/characteristic-curve.js';

/** The form of a characteristic curve: a share of the deepest black that rises from 0 to 1, and back. */
export interface CurveShape {
  readonly shareAt: (u: number) => number;
  readonly placeOf: (share: number) => number;
  /** How much it counts before a strip was looked at. */
  readonly weight: ShapeWeight;
}

export interface ShapeWeight {
  readonly inFigure: number;
  readonly inInterval: number;
}

/**
 * Papers' curves are not all bent as the project's own is: here are softer and harder corners, and longer toes or shoulders
 * (a power of the curve, or of what it lacks; with a soft corner Richards' growth curve, J. Exp. Bot. 10 (1959), from memory). At the
 * ends lie curves that know no corners: the softest is nearly the logistic, and with the highest power Gompertz's.
 */
const WIDTHS = [0.07, BEND_WIDTH, 0.28, 0.8];
const POWERS = [-20, -6, -2, 1, 2, 6, 20];

const EVEN: ShapeWeight = { inFigure: 1, inInterval: 1 };

/**
 * By trials: with more R is surer on the project's own papers. A phone's strip often does not tell which shape is right, and then this
 * one is taken for it: an interval does not count on that so much, or it misses too often on others.
 */
export const ownShape: CurveShape = {
  shareAt: bend,
  placeOf: unbend,
  weight: { inFigure: 16, inInterval: 6 },
};

export const curveShapes: readonly CurveShape[] = WIDTHS.flatMap((width) =>
  POWERS.map((power) => (width === BEND_WIDTH && power === 1 ? ownShape : shape(width, power))),
);

/** A power above 1 has a long shoulder, one below -1 a long toe. */
function shape(width: number, power: number): CurveShape {
  if (power > 0)
    return {
      shareAt: (u) => bend(u, width) ** power,
      placeOf: (share) => unbend(share ** (1 / power), width),
      weight: EVEN,
    };
  return {
    shareAt: (u) => 1 - (1 - bend(u, width)) ** -power,
    placeOf: (share) => unbend(1 - (1 - share) ** (-1 / power), width),
    weight: EVEN,
  };
}

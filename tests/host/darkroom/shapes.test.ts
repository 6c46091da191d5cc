import { describe, expect, it } from 'vitest';
import { coverOf } from '../../../host/darkroom/sheet/cover.js';
import { type ShapeInput, shapeSchema } from '../../../host/recipe/shape.js';

const cover = (shape: ShapeInput, aspect = 1) => coverOf(shapeSchema.parse(shape), aspect);

describe('the shapes of dodging and burning tools', () => {
  const rectangle = {
    kind: 'rectangle',
    leftPercent: 20,
    topPercent: 30,
    widthPercent: 40,
    heightPercent: 20,
  } as const;

  it('cover everything well inside, nothing well outside, and half on the outline', () => {
    const at = cover(rectangle);
    expect(at(40, 40)).toBe(1);
    expect(at(40, 60)).toBe(0);
    expect(at(40, 50)).toBeCloseTo(0.5, 9);
    expect(at(20, 40)).toBeCloseTo(0.5, 9);
  });

  it('have a rim as wide across as along on a print that is not square', () => {
    const at = cover({ ...rectangle, softPercent: 6 }, 1.5);
    // 1 per cent of the shorter side is 1 per cent of the height and 1 / 1.5 per cent of the width.
    expect(at(40, 49)).toBeCloseTo(at(60 - 1 / 1.5, 40), 9);
  });

  it('turn an ellipse clockwise', () => {
    const at = cover({
      kind: 'ellipse',
      centreXPercent: 50,
      centreYPercent: 50,
      widthPercent: 60,
      heightPercent: 20,
      turnDegrees: 45,
    });
    expect(at(66, 66)).toBe(1);
    expect(at(66, 34)).toBe(0);
    expect(at(50, 50)).toBe(1);
  });

  it('follow a polygon with a notch in it', () => {
    const at = cover({
      kind: 'polygon',
      pointsPercent: [
        [10, 10],
        [90, 10],
        [90, 90],
        [50, 40],
        [10, 90],
      ],
    });
    expect(at(50, 25)).toBe(1);
    expect(at(50, 70)).toBe(0);
    expect(at(80, 70)).toBe(1);
  });

  it.each([
    ['top', 50, 0, 50, 40],
    ['bottom', 50, 100, 50, 60],
    ['left', 0, 50, 40, 50],
    ['right', 100, 50, 60, 50],
  ] as const)('shade the %s edge from full to none', (side, xPercent, yPercent, endX, endY) => {
    const at = cover({ kind: 'edge', side, depthPercent: 40 });
    expect(at(xPercent, yPercent)).toBe(1);
    expect(at((xPercent + endX) / 2, (yPercent + endY) / 2)).toBeCloseTo(0.5, 9);
    expect(at(endX, endY)).toBe(0);
  });

  it('refuse a field that they do not know and a polygon of two corners', () => {
    expect(shapeSchema.safeParse({ ...rectangle, colour: 'red' }).success).toBe(false);
    expect(
      shapeSchema.safeParse({
        kind: 'polygon',
        pointsPercent: [
          [0, 0],
          [1, 1],
        ],
      }).success,
    ).toBe(false);
  });
});

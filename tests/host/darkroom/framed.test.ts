import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { framed } from '../../../host/darkroom/negative/framed.js';
import { commonScanReading, scanTable } from '../../../host/darkroom/negative/negative.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { luxSecondsThatSuit } from '../../../host/darkroom/picture/preview.js';
import { changedByHand } from '../../../host/recipe/changed-by-hand.js';
import { noFraming, reframed } from '../../../host/recipe/framing.js';
import { readRecipe, toBoardRecipe, writeRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { completed } from '../../../host/records/recipes/completed.js';
import { projectRoot } from '../../../shared-protocol/project.js';

const demoText = readFileSync(join(projectRoot, 'host/evening/boathouse.json'), 'utf8');
const logTransmittance = scanTable(commonScanReading);

/** Three across and two down: 1 2 3 over 4 5 6. */
const negative = { width: 3, height: 2, samples: Uint16Array.of(1, 2, 3, 4, 5, 6), logTransmittance };

function rowsOf(framing: Partial<typeof noFraming>): number[][] {
  const { width, height, samples } = framed(negative, { ...noFraming, ...framing });
  return Array.from({ length: height }, (_, row) => [...samples.subarray(row * width, (row + 1) * width)]);
}

describe('a negative under the easel', () => {
  it('is turned clockwise by quarters', () => {
    expect(rowsOf({ quarterTurns: 1 })).toEqual([
      [4, 1],
      [5, 2],
      [6, 3],
    ]);
    expect(rowsOf({ quarterTurns: 2 })).toEqual([
      [6, 5, 4],
      [3, 2, 1],
    ]);
    expect(rowsOf({ quarterTurns: 3 })).toEqual([
      [3, 6],
      [2, 5],
      [1, 4],
    ]);
  });

  it('is mirrored before it is turned', () => {
    expect(rowsOf({ mirrored: true })).toEqual([
      [3, 2, 1],
      [6, 5, 4],
    ]);
    expect(rowsOf({ mirrored: true, quarterTurns: 1 })).toEqual([
      [6, 3],
      [5, 2],
      [4, 1],
    ]);
  });

  it('ends at the blades, and never leaves nothing', () => {
    expect(rowsOf({ leftPercent: 34, topPercent: 50 })).toEqual([[5, 6]]);
    expect(rowsOf({ leftPercent: 45, rightPercent: 45, topPercent: 45, bottomPercent: 45 })).toHaveLength(1);
  });

  // Its corners were once taken for the densest tone of the picture, and the whole sheet went black.
  it('suits the same light when it is turned a little', () => {
    const whole = boathouseNegative(200);
    const paper = new Paper(commonPaper);
    const recipe = readRecipe(demoText);
    const plan = loadPlanner().planRecipe(recipe);
    const suits = (turnDegrees: number) =>
      luxSecondsThatSuit(framed(whole, { ...noFraming, turnDegrees }), paper, plan);
    expect(Math.abs(Math.log2(suits(8) / suits(0)))).toBeLessThan(1 / 6);
  });

  it('lets no light through where a turn has left no film', () => {
    const side = 41;
    const even = { width: side, height: side, samples: new Uint16Array(side * side).fill(40_000) };
    const turned = framed({ ...even, logTransmittance }, { ...noFraming, turnDegrees: 10 });
    expect(turned.samples[0]).toBe(0);
    expect(turned.samples[(side * side - 1) / 2]).toBe(40_000);
    const positive = scanTable({ ...commonScanReading, as: 'positive' });
    const ofPositive = framed({ ...even, logTransmittance: positive }, { ...noFraming, turnDegrees: 10 });
    expect(ofPositive.samples[0]).toBe(0xffff);
  });

  it('goes clockwise by degrees as by quarters', () => {
    const dot = { width: 41, height: 41, samples: new Uint16Array(41 * 41), logTransmittance };
    dot.samples[5 * 41 + 20] = 60_000;
    const { samples } = framed(dot, { ...noFraming, turnDegrees: 45 });
    const brightest = samples.indexOf(samples.reduce((most, code) => Math.max(most, code)));
    expect([brightest % 41, Math.floor(brightest / 41)]).toEqual([31, 9]);
  });
});

const file = { title: 'Slipway', base: '12.5s', passes: [{ kind: 'base' }] };
const read = (framing?: object) => readRecipe(JSON.stringify({ ...file, ...(framing && { framing }) }));

describe('the framing in a recipe', () => {
  it('is written and read back, and none is written where there is none', () => {
    const recipe = read({ leftPercent: 5, turnDegrees: -1.5, scanIs: 'positive' });
    expect(readRecipe(writeRecipe(recipe))).toEqual(recipe);
    expect(writeRecipe(read())).not.toContain('framing');
  });

  it('leaves room between the blades', () => {
    expect(() => read({ leftPercent: 50, rightPercent: 41 })).toThrow(/may reach in by 90 per cent together/);
  });

  it('is not there any more when it does nothing', () => {
    expect(reframed({ ...noFraming, mirrored: true }, { mirrored: false })).toBeUndefined();
  });

  it('makes a new version with a line that tells of it', () => {
    const before = read();
    const after = changedByHand(
      before,
      { ...before, framing: reframed(undefined, { topPercent: 4 }) },
      new Date(0),
    );
    expect(after.version).toBe(before.version + 1);
    expect(after.history.at(-1)).toContain('blades 0/4/0/0 %');
  });

  it('comes back from what was kept, which a board is not told', () => {
    const kept = read({ quarterTurns: 1 });
    const onBoard = toBoardRecipe({ ...kept, baseMs: 14_000, version: 2 });
    expect(onBoard).not.toHaveProperty('framing');
    expect(completed(onBoard, kept).recipe.framing).toEqual(kept.framing);
  });
});

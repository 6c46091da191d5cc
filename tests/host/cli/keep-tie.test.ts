import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { keepTie } from '../../../host/cli/keep-tie.js';
import type { FiguresByNegative } from '../../../host/darkroom/reading/by-negative/figures-by-negative.js';
import type { Interval } from '../../../host/darkroom/reading/strip-figures.js';

const about = (value: number): Interval => ({ value, low: value - 0.1, high: value + 0.1 });

/** Strips that differ in what they tell of the film's contrast. */
function told(contrast: number): FiguresByNegative {
  return {
    ...{ contrast: about(contrast), flareShare: about(0.02), tie: { contrast, flareShare: 0.02 } },
    ...{ pivotLog: -1, pivot: about(12), film: [-1.2, -0.8] },
    ...{ base: undefined, white: undefined, black: undefined, isoR: undefined },
  } as unknown as FiguresByNegative;
}

// One of them had read for seconds, and was told to begin again.
it('two programs that keep what a strip told in one recipe at the same moment both do, one after the other', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-tie-'));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  const recipe = join(folder, 'mill.json');
  writeFileSync(recipe, '{ "title": "Mill",   "base": "12s",\n  "passes": [{ "kind": "base" }] }\n');
  const reading = { refused: null, tone: 0.6, patches: [], figures: undefined, placed: undefined } as const;
  const contrasts = [1.01, 1.02, 1.03, 1.04];
  await Promise.all(contrasts.map((one) => keepTie(recipe, { ...reading, byNegative: told(one) }, '2')));
  const kept = JSON.parse(readFileSync(recipe, 'utf8'));
  expect(kept).toMatchObject({ title: 'Mill', base: '12s', filmTie: { filter: '2' } });
  expect(contrasts).toContain(kept.filmTie.contrast);
  expect(readdirSync(folder)).toEqual(['mill.json']);
});

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { luxOf, shapesOf } from '../../../host/darkroom/picture/preview.js';
import { PrintRenderer, render } from '../../../host/darkroom/picture/render.js';
import { sheetAsPlanned } from '../../../host/darkroom/sheet/exposed-sheet.js';
import { wholeSheet } from '../../../host/darkroom/sheet/sheet.js';
import { type Recipe, readRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { bestMs, type Section, times } from './page.js';

/** A megapixel, as the desk shows it while something is being turned. */
const LINES = 816;
const ROUNDS = 25;
const GOAL_MS = { oneFilter: 16, mixed: 33 } as const;

/** Frames of the desk's picture while its base is turned, from kept tables and made anew. */
export async function deskFrames(): Promise<Section> {
  const boathouse = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
  const oneFilter = {
    ...boathouse,
    passes: boathouse.passes.map((pass) => ({ ...pass, filter: boathouse.passes[0]!.filter })),
  };
  const threeFilters = {
    ...boathouse,
    passes: boathouse.passes.map((pass) => (pass.label === 'far hills' ? { ...pass, filter: '4' } : pass)),
  };
  const negative = boathouseNegative(LINES);
  const megapixels = ((negative.width * negative.height) / 1e6).toFixed(2);
  return {
    title: `The desk's picture: a frame of ${megapixels} megapixels`,
    about:
      'The boathouse, its base turned by a tenth of a second from frame to frame; the quickest of ' +
      `${ROUNDS}. Goal: at most ${GOAL_MS.oneFilter} ms through one filter and ${GOAL_MS.mixed} ms through several.`,
    columns: ['print', 'ms a frame, kept', 'ms a frame, anew', 'share'],
    rows: [
      await row('one filter', oneFilter, negative),
      await row('two filters', boathouse, negative),
      await row('three filters', threeFilters, negative),
    ],
  };
}

async function row(what: string, recipe: Recipe, negative: ReturnType<typeof boathouseNegative>) {
  const paper = new Paper(commonPaper);
  const planner = loadPlanner();
  const lux = luxOf(recipe, planner.planRecipe(recipe), { negative, paper });
  const frames = Array.from({ length: ROUNDS }, (_, frame) => {
    const turned = { ...recipe, baseMs: recipe.baseMs + 100 * frame };
    return wholeSheet(paper, sheetAsPlanned(planner.planRecipe(turned), shapesOf(turned), lux).lights);
  });
  const renderer = new PrintRenderer(negative);
  const pixels = new Uint8Array(negative.width * negative.height);
  renderer.render(frames[0]!, pixels);
  let [kept, anew] = [0, 0];
  const [keptMs, anewMs] = await bestMs(
    ROUNDS,
    () => renderer.render(frames[kept++ % ROUNDS]!, pixels),
    () => render(frames[anew++ % ROUNDS]!, negative),
  );
  return [what, keptMs!.toFixed(1), anewMs!.toFixed(1), times(keptMs! / anewMs!)];
}

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { limits } from '../../shared-protocol/limits.js';
import { projectRoot } from '../../shared-protocol/project.js';
import type { Board } from '../board/link/board.js';
import type { LampEdge } from '../board/sim/board-home.js';
import { type Recipe, readRecipe, toBoardRecipe } from '../recipe/index.js';
import type { Lamp } from '../recipe/planner/index.js';
import type { Archive } from '../records/archive/archive.js';
import { type CollectReport, collectIntoArchive } from '../records/archive/collect-log.js';
import { type LogEntry, logEntries } from '../records/log/log-entry.js';
import type { Stage, Step } from './stage.js';

/** The lamp of the demonstration: as a filament of the usual kind behaves (from memory). */
export const demoLamp: Lamp = { lagMs: 120, riseMs: 90 };
export const demoStrip = {
  firstMs: 5000,
  stepStops120: 60,
  stepMs: 0,
  patches: 6,
  cover: 'cumulative',
  filter: '',
} as const;

/** Everything that an evening leaves behind. */
export interface EveningAccount {
  readonly recipe: Recipe;
  readonly strip: { readonly steps: readonly Step[]; readonly edges: readonly LampEdge[] };
  readonly print: { readonly steps: readonly Step[]; readonly edges: readonly LampEdge[] };
  /** Focus, the lens check, and what came before the first sheet. */
  readonly before: readonly Step[];
  readonly collected: CollectReport;
  readonly entries: readonly LogEntry[];
}

/** An evening has no more passes and dodges than this to tap through. */
const MOST_TAPS = 80;

/** The recipe of the demonstration. */
export function demoRecipe(): Recipe {
  return readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
}

/**
 * The whole job once: a recipe and a strip sent to the board, focus, lens check, the strip, the print with a
 * pause in it, the baths, and the night's log in the archive. The laptop is real, the board whatever `stage` holds.
 */
export async function playEvening(stage: Stage, board: Board, archive: Archive): Promise<EveningAccount> {
  const recipe = demoRecipe();
  await stage.during(prepare(board, recipe, archive));
  const before = stepsOf(stage, () => focus(stage));
  const strip = sheetOf(stage, () => {
    exposeStrip(stage);
    process(stage, 'looked at in the light');
  });
  await stage.during(board.choose('recipe', recipe.name));
  const print = sheetOf(stage, () => {
    exposePrint(stage);
    process(stage, 'hung up to dry');
  });
  const collected = await stage.during(collectIntoArchive(archive, board));
  const entries: LogEntry[] = [];
  for await (const entry of logEntries(archive.records({ board: board.id }))) entries.push(entry);
  return { recipe, before: before.steps, strip, print, collected, entries };
}

async function prepare(board: Board, recipe: Recipe, archive: Archive): Promise<void> {
  await board.setSetting('lamp-lag-ms', demoLamp.lagMs);
  await board.setSetting('lamp-rise-ms', demoLamp.riseMs);
  await board.setSetting('bath-follows', 1);
  await board.sendRecipe(toBoardRecipe(recipe));
  await archive.keepRecipe(recipe, board.id);
  await board.setStrip(demoStrip);
}

function focus(stage: Stage): void {
  stage.hold('light, to compose and focus');
  stage.wait(20_000);
  stage.tap('light off');
  stage.tap('in a hurry: nothing exposes yet');
  stage.wait(4000);
  stage.hold('the lens is stopped down');
}

function exposeStrip(stage: Stage): void {
  stage.tap('the strip');
  for (let patch = 1; patch <= demoStrip.patches; patch++) {
    stage.wait(3000);
    stage.tap(patch === 1 ? 'all patches bare' : `card over patch ${patch - 1}`);
    stage.waitForDark();
  }
}

/** Every dodge and every burn waits for the foot; in the first, somebody knocks. */
function exposePrint(stage: Stage): void {
  stage.tap('the print');
  stage.wait(3000);
  if (asksFilter(stage)) stage.tap('the filter is in');
  stage.tap('start');
  stage.wait(1200);
  stage.tap('pause: a hand slipped');
  stage.wait(5000);
  stage.tap('the rest of it');
  stage.waitForDark();
  for (let taps = 0; taps < MOST_TAPS && !isDone(stage); taps++) {
    stage.wait(3000);
    stage.tap(asksFilter(stage) ? 'the other filter is in' : 'the next piece');
    stage.waitForDark();
  }
}

/** The next bath is begun when the one before is over; the first row tells, which may wait while the flash is written. */
function process(stage: Stage, why: string): void {
  stage.wait(5000);
  stage.tap('to the baths');
  stage.waitFor(() => stage.prompt.startsWith('Tap bath '));
  for (let taps = 0; taps < limits.baths && stage.prompt.startsWith('Tap bath '); taps++) {
    stage.wait(4000);
    stage.tap(`into the ${stage.row(2)}`);
    stage.waitFor(() => !stage.prompt.startsWith('Tap next'));
  }
  stage.hold(why);
}

function asksFilter(stage: Stage): boolean {
  return stage.prompt.startsWith('Filter in');
}

function isDone(stage: Stage): boolean {
  return stage.home.panel[3]!.trimEnd().endsWith('done');
}

function stepsOf(stage: Stage, play: () => void): { steps: Step[] } {
  const from = stage.steps().length;
  play();
  return { steps: stage.steps().slice(from) };
}

function sheetOf(stage: Stage, play: () => void): EveningAccount['strip'] {
  const from = stage.home.lampEdges.length;
  const { steps } = stepsOf(stage, play);
  return { steps, edges: stage.home.lampEdges.slice(from) };
}

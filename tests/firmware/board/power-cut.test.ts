import { beforeAll, describe, expect, test } from 'vitest';
import type { Message } from '../../../shared-protocol/index.js';
import { Random } from '../../setup/random.js';
import { boathouse } from '../core/evening/boathouse.js';
import { EveningBench } from '../core/evening/evening-bench.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { type Change, NorFlash } from './rig/nor-flash.js';
import { boardTestsRun } from './rig/requirements.js';

/** How much of a change is done when the power fails: nothing, half of its bits, nearly all. */
const likelyDone = [0, 0.5, 0.95];
/** Of so many changes that follow each other one is cut into, in turn at one of these; CI cuts into each. */
const CHANGES_A_CUT = Number(process.env.TREADLE_CHANGES_A_CUT ?? 8);
/** Each is cut into at all of them. */
const soak = process.env.TREADLE_SOAK === '1';

type Entry = Extract<Message, { seq: number }>;

/** What the laptop had been told when so many changes of the flash had been begun. */
interface Checkpoint {
  readonly changes: number;
  readonly lights: number;
  readonly log: readonly Entry[];
  readonly baseMs: number | undefined;
}

/** An evening as it went, change by change of the flash. */
interface Evening {
  readonly changes: Change[];
  /** Edges of the lamp before each change, the light for focusing left out: it falls on no paper. */
  readonly lights: number[];
  readonly checkpoints: Checkpoint[];
}

function baseMsOf(bench: EveningBench<EmulatedBoard>): number | undefined {
  const said = bench.ask({ type: 'recipe-list', id: 0 });
  const line = said.find((one) => one.type === 'recipe-line');
  return line?.type === 'recipe-line' ? line.baseMs : undefined;
}

/** Two versions of a recipe, focus, a print of each. */
function spendEvening(): Evening {
  const board = new EmulatedBoard({ image: buildImage() });
  const nothing: Checkpoint = { changes: 0, lights: 0, log: [], baseMs: undefined };
  const evening: Evening = { changes: [], lights: [], checkpoints: [nothing] };
  let focusEdges = Number.POSITIVE_INFINITY;
  const lightsOnPaper = () => Math.max(0, board.lampEdges.length - focusEdges);
  board.flash.onOperation = (change) => {
    evening.changes.push(change);
    evening.lights.push(lightsOnPaper());
  };
  const bench = new EveningBench(board);
  bench.greet();
  const note = () => {
    const log = bench.log();
    const baseMs = baseMsOf(bench);
    evening.checkpoints.push({
      changes: evening.changes.length,
      lights: board.lampEdges.length,
      log,
      baseMs,
    });
  };
  note();
  bench.print(boathouse);
  note();
  bench.focusAndStopDown();
  focusEdges = board.lampEdges.length;
  note();
  printSheet(bench, note);
  bench.hold();
  bench.print({ ...boathouse, baseMs: 8000 });
  note();
  printSheet(bench, note);
  return evening;
}

function printSheet(bench: EveningBench<EmulatedBoard>, note: () => void): void {
  bench.tap();
  for (let taps = 0; taps < 12 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.tap();
    bench.seconds(14);
    note();
  }
}

/** The board after the power failed inside change `at`, so much of which was done. */
function boardAfterCut(evening: Evening, at: number, done: number, random: Random): EmulatedBoard {
  const flash = new NorFlash();
  for (const { after, at: place } of evening.changes.slice(0, at)) flash.bytes.set(after, place);
  flash.tear(evening.changes[at]!, () => random.chance(done));
  return new EmulatedBoard({ image: buildImage(), flash });
}

/** An entry without the number of its answer. */
const plain = ({ id: _, ...entry }: Entry) => entry;

/** What a board says by itself when it has power again: that it has, and of a sheet under way that the power ended it. */
function isSaidAfterCut(entry: Entry): boolean {
  return entry.type === 'started' || (entry.type === 'sheet-ended' && entry.outcome === 'interrupted');
}

function checkLog(evening: Evening, at: number, log: readonly Entry[]): void {
  const known = evening.checkpoints.findLast(({ changes }) => changes <= at)!;
  const whole = new Map(evening.checkpoints.at(-1)!.log.map((entry) => [entry.seq, plain(entry)]));
  const found = new Map(log.map((entry) => [entry.seq, entry]));
  for (const entry of known.log) expect(found.has(entry.seq), `entry ${entry.seq} is lost`).toBe(true);
  for (const entry of log) {
    if (entry.boot !== known.log[0]?.boot) {
      expect(isSaidAfterCut(entry), `${entry.type} after the power came back`).toBe(true);
      continue;
    }
    if (entry.type === 'exposure' && entry.outcome === 'interrupted') continue;
    expect(plain(entry)).toEqual(whole.get(entry.seq));
  }
  if (evening.lights[at]! > known.lights) {
    const begun = log.filter(
      ({ type, seq }) => type === 'exposure' && !known.log.some((entry) => entry.seq === seq),
    );
    const goesOn = known.log.some((entry) => entry.type === 'exposure' && entry.outcome === 'interrupted');
    expect(begun.length > 0 || goesOn, 'light was given that the log does not know').toBe(true);
  }
}

function checkRecipe(evening: Evening, at: number, baseMs: number | undefined): void {
  const before = evening.checkpoints.findLast(({ changes }) => changes <= at)!;
  const after = evening.checkpoints.find(({ changes }) => changes > at) ?? before;
  expect([before.baseMs, after.baseMs]).toContain(baseMs);
}

describe.runIf(boardTestsRun)('a power cut on the chip', () => {
  let evening: Evening;

  beforeAll(() => {
    evening = spendEvening();
  }, 120_000);

  test('inside a program or an erase loses no entry that was told and no recipe, and the board goes on', () => {
    let cuts = 0;
    for (let at = 0; at < evening.changes.length; at += soak ? 1 : CHANGES_A_CUT) {
      for (const done of soak ? likelyDone : [likelyDone[cuts % likelyDone.length]!]) {
        const board = boardAfterCut(evening, at, done, new Random(at));
        const bench = new EveningBench(board);
        bench.greet();
        checkLog(evening, at, bench.log());
        checkRecipe(evening, at, baseMsOf(bench));
        expect(board.mistakes, `cut ${at}`).toEqual([]);
        expect(board.watchdogResets, `cut ${at}`).toEqual([]);
        cuts++;
      }
    }
    const erases = evening.changes.filter(({ kind }) => kind === 'erase').length;
    console.log(`${cuts} cuts into ${evening.changes.length} changes of the flash, ${erases} of them erases`);
    expect(erases).toBeGreaterThan(0);
  }, 600_000);

  test('while the lamp is on leaves an interrupted exposure in the log', () => {
    const board = new EmulatedBoard({ image: buildImage() });
    const bench = new EveningBench(board);
    bench.greet();
    bench.print(boathouse);
    bench.focusAndStopDown();
    bench.tap();
    bench.answer();
    bench.tap();
    bench.seconds(1);
    expect(board.lampOn).toBe(true);
    board.cutPower();
    expect(board.lampOn).toBe(false);
    board.restorePower();
    bench.seconds(1);
    bench.greet();
    const entry = bench.log().findLast(({ type }) => type === 'exposure');
    expect(entry).toMatchObject({ kind: 'base', outcome: 'interrupted', plannedMs: 12_000 });
  });
});

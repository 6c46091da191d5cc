import { describe, expect, test } from 'vitest';
import { boathouse } from '../core/evening/boathouse.js';
import { EveningBench } from '../core/evening/evening-bench.js';
import { Random } from '../setup/random.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';

/** From the pedal's edge to the relay's: what the design allows, bounce and begin record included. */
const LATENCY_US = 1000;
const BOUNCE_US = 15_000;

/** A print that waits for the pedal. */
function ready(): EveningBench<EmulatedBoard> {
  const bench = new EveningBench(new EmulatedBoard({ image: buildImage() }));
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  bench.tap();
  bench.seconds(1);
  return bench;
}

/** A contact that closes or opens and bounces for 15 ms: mostly where it goes to, ever shorter at the other end. */
function bounce(board: EmulatedBoard, down: boolean, random: Random): void {
  board.pedal(down);
  for (let us = 0; us < BOUNCE_US; ) {
    const thereUs = 30 + random.below(400);
    const backUs = 10 + random.below(150);
    board.timeline.at(board.nowUs + us + thereUs, () => board.pedal(!down));
    us += thereUs + backUs;
    board.timeline.at(board.nowUs + us, () => board.pedal(down));
  }
  board.advanceUs(2 * BOUNCE_US);
}

describe.runIf(boardTestsRun)('from the foot to the lamp, on the chip', () => {
  test('takes at most a millisecond, with 15 ms of bounce and the record that begins the exposure', () => {
    const latencies: number[] = [];
    for (const seed of [1, 2, 3, 4, 5]) {
      const bench = ready();
      const random = new Random(seed);
      const operations = bench.board.flash.operations;
      bounce(bench.board, true, random);
      bench.seconds(0.1);
      const before = bench.board.lampEdges.length;
      const releasedUs = bench.board.nowUs;
      bounce(bench.board, false, random);
      latencies.push(bench.board.lampEdges[before]!.atUs - releasedUs);
      expect(bench.board.flash.operations).toBeGreaterThan(operations);
      expect(bench.board.lampEdges).toHaveLength(before + 1);
    }
    expect(Math.max(...latencies)).toBeLessThanOrEqual(LATENCY_US);
  }, 60_000);

  test('a spike of 50 us starts nothing', () => {
    const bench = ready();
    const before = bench.board.lampEdges.length;
    for (let spike = 0; spike < 20; spike++) {
      bench.board.pedal(true);
      bench.board.advanceUs(50);
      bench.board.pedal(false);
      bench.board.advanceUs(20_000);
    }
    bench.seconds(1);
    expect(bench.board.lampEdges).toHaveLength(before);
  });
});

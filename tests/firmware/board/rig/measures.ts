import { Random } from '../../../setup/random.js';
import { boathouse } from '../../core/evening/boathouse.js';
import { EveningBench } from '../../core/evening/evening-bench.js';
import { EmulatedBoard } from './emulated-board.js';
import { EventMeter } from './event-meter.js';
import { buildImage } from './image.js';
import { lightsUs, ProbeBoard } from './probe-board.js';

/** How long the board is kept as busy as can be at each end of an exposure. */
const BUSY_US = 30_000;
/** Foot switches bounce for up to 15 ms (common practice, no source). */
const BOUNCE_US = 15_000;

/** From now on the serial line is full both ways and the display changes all the time; calling the answer ends it. */
function keepBusy(board: ProbeBoard): () => void {
  let busy = true;
  const feed = () => {
    if (!busy) return;
    board.port.write(Buffer.alloc(115, '\n')); // as many as the line carries in 10 ms
    board.timeline.at(board.nowUs + 10_000, feed);
  };
  board.port.write('1q1z1v');
  feed();
  return () => {
    busy = false;
    board.port.write('0z0v');
  };
}

/** An exposure of `onUs` whose both ends fall into as much work as the board can have: how long the lamp was on. */
export function lightUnderLoad(onUs: number): { readonly lightUs: number; readonly board: ProbeBoard } {
  const board = new ProbeBoard();
  board.tell(`${onUs}x`);
  const rest = keepBusy(board);
  board.advanceUs(20_000);
  board.pedal(true);
  board.advanceUs(BUSY_US);
  if (onUs > 4 * BUSY_US) {
    rest();
    board.advanceUs(onUs - 3 * BUSY_US);
    keepBusy(board);
  }
  board.advanceUs(4 * BUSY_US);
  return { lightUs: lightsUs(board.lampEdges)[0]!, board };
}

/** The real core with a print that waits for the pedal. */
export function printWaiting(): EveningBench<EmulatedBoard> {
  const bench = new EveningBench(new EmulatedBoard({ image: buildImage() }));
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  bench.tap();
  bench.answer();
  bench.seconds(1);
  return bench;
}

/** A contact that closes or opens and bounces for 15 ms, ever again for a moment at the other end. */
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

/**
 * From the first edge of a pedal that is let go, bouncing, to the relay's; the record of the begin is on flash by
 * then. `talking` has the laptop pull the log meanwhile, over and over.
 */
export function pedalToLampUs(seed: number, talking = false): number {
  const bench = printWaiting();
  const { board } = bench;
  const random = new Random(seed);
  if (talking) bench.beginCollecting(20);
  const changes = board.flash.operations;
  bounce(board, true, random);
  board.advanceUs(100_000 + random.below(50_000));
  if (board.flash.operations === changes) throw new Error('the exposure was not begun in the log');
  const before = board.lampEdges.length;
  const releasedUs = board.nowUs;
  bounce(board, false, random);
  if (board.lampEdges.length !== before + 1) throw new Error('the lamp did not go on once');
  return board.lampEdges[before]!.atUs - releasedUs;
}

/** What the core's events cost on the chip, over a print. */
export function eventCosts(): EventMeter {
  const image = buildImage();
  const board = new EmulatedBoard({ image, powered: false });
  const meter = new EventMeter();
  board.onStart = (chip) => meter.watch(chip, image);
  board.restorePower();
  const bench = new EveningBench(board);
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  bench.tap();
  for (let taps = 0; taps < 6; taps++) {
    bench.answer();
    bench.tap();
    bench.seconds(14);
  }
  bench.log();
  return meter;
}

import { describe, expect, test } from 'vitest';
import { coreModule } from '../../../host/core/load-core.js';
import { Random } from '../../setup/random.js';
import { boathouse } from '../core/evening/boathouse.js';
import { EveningBench } from '../core/evening/evening-bench.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';
import { replay, TraceRecorder } from './rig/trace.js';

/** How much happens in the evening that is recorded; TREADLE_REPLAY_EVENTS asks for more. */
const EVENTS = Number(process.env.TREADLE_REPLAY_EVENTS ?? 400);
const SEED = Number(process.env.TREADLE_SEED ?? 5);

function anything(bench: EveningBench<EmulatedBoard>, random: Random): void {
  const { board } = bench;
  switch (random.below(10)) {
    case 0:
      bench.tap();
      break;
    case 1:
      bench.hold();
      break;
    case 2:
      board.pedal(random.chance(0.5));
      break;
    case 3:
      board.knobTurn(random.below(7) - 3);
      break;
    case 4:
      board.knobPush(random.chance(0.5));
      break;
    case 5:
      bench.noise(random.bytes(1 + random.below(40)));
      break;
    case 6:
      bench.noise(Buffer.from('\n["hello",1]\n'));
      break;
    default:
      board.advanceUs(random.below(random.pick([1000, 30_000, 700_000, 6_000_000])));
  }
}

describe.runIf(boardTestsRun)('the same events', () => {
  test(`have the same effects in Node as on the chip, over ${EVENTS} things that happen (seed ${SEED})`, () => {
    const image = buildImage();
    const board = new EmulatedBoard({ image, powered: false });
    let recorder: TraceRecorder | undefined;
    board.onStart = (chip) => {
      expect(recorder, 'the board started again').toBeUndefined();
      recorder = new TraceRecorder(chip, image);
    };
    board.restorePower();
    const bench = new EveningBench(board);
    const random = new Random(SEED);
    bench.greet();
    bench.print(boathouse);
    for (let event = 0; event < EVENTS; event++) anything(bench, random);
    const { lines, answers } = recorder!;
    expect(lines.filter((line) => line.startsWith('  exposeUs')).length).toBeGreaterThan(EVENTS / 100);
    expect(lines.filter((line) => line.startsWith('  flashProgram')).length).toBeGreaterThan(EVENTS / 50);
    expect(replay(coreModule(), lines, answers)).toEqual(lines);
  }, 300_000);
});

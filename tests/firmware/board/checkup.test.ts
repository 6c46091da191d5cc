import { beforeAll, describe, expect, test } from 'vitest';
import type { BoardHome } from '../../../host/board/sim/board-home.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { entries } from '../core/evening/entries.js';
import { EveningBench } from '../core/evening/evening-bench.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';

const CLICK_SECONDS = 0.13;
/** A display is written to cell by cell, and the eye comes later. */
const LOOK_SECONDS = 0.15;
const PULL_INS = 100;

/** The whole checkup by pedal and knob; answers each screen, and light and safelight as they were then. */
function checkUp<Home extends BoardHome>(bench: EveningBench<Home>) {
  const seen: string[] = [];
  const look = (seconds = LOOK_SECONDS) => {
    bench.seconds(seconds);
    const { displayLightPercent, safelightOn } = bench.board;
    seen.push([...bench.panel, `${displayLightPercent} %`, safelightOn ? 'safelight' : 'dark'].join('|'));
  };
  const turn = (clicks: number) => {
    for (let click = 0; click < Math.abs(clicks); click++) {
      bench.turn(Math.sign(clicks));
      bench.seconds(CLICK_SECONDS);
    }
  };
  const tap = () => {
    bench.tap();
    look();
  };
  turn(4);
  for (let taps = 0; taps < 3; taps++) tap();
  turn(3);
  turn(-3);
  look();
  bench.push();
  look();
  for (let second = 1; second <= 4; second++) look(1);
  for (let taps = 0; taps < 4; taps++) tap();
  for (let second = 1; second <= 4; second++) look(1);
  tap();
  tap();
  bench.seconds(31);
  look();
  tap();
  return seen;
}

describe.runIf(boardTestsRun)('the checkup on the chip', () => {
  const model = new EveningBench(new SimulatedBoard());
  const simulated = checkUp(model);
  let bench: EveningBench<EmulatedBoard>;
  let emulated: string[];

  beforeAll(() => {
    bench = new EveningBench(new EmulatedBoard({ image: buildImage() }));
    emulated = checkUp(bench);
  }, 240_000);

  test('shows the screens of the simulated board, with all dots, the light down to dark, the safelight clicking', () => {
    expect(emulated).toEqual(simulated);
    expect(emulated.some((screen) => screen.includes('█'.repeat(20)))).toBe(true);
    expect(emulated.some((screen) => screen.includes('|0 %|'))).toBe(true);
    expect(emulated.filter((screen) => screen.endsWith('|dark')).length).toBeGreaterThan(1);
    expect(emulated.at(-1)).toMatch(/Checkup\|Faults: 0/);
  });

  test("moves the lamp's pin a hundred times, each to 2 us, and the log has as much", () => {
    expect(bench.pulses).toHaveLength(PULL_INS);
    for (const us of bench.pulses) expect(Math.abs(us - 100_000)).toBeLessThanOrEqual(2);
    expect(model.pulses).toHaveLength(PULL_INS);
    bench.greet();
    expect(entries(bench, 'exposure')).toMatchObject([
      { kind: 'checkup', onMs: 10_000, outcome: 'complete' },
    ]);
  });

  test('asks nothing of the parts that a real one would not do', () => {
    expect(bench.board.mistakes).toEqual([]);
    expect(bench.board.watchdogResets).toEqual([]);
  });
});

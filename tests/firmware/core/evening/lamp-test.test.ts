import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { LampTrace, lampFromLagAndRise } from '../../../../host/darkroom/light/lamp.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

const PATCHES = 7;
const PULSES = 16;
/** Longer than a patch takes, and short of the next thing. */
const PATCH_SECONDS = 20;

function evening(board = new SimulatedBoard(), riseMs = 0): EveningBench {
  const bench = new EveningBench(board);
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lamp-rise-ms', value: riseMs });
  bench.focusAndStopDown();
  bench.seconds(1);
  bench.turn(3);
  return bench;
}

function giveTest(bench: EveningBench, times = 1): void {
  bench.tap();
  for (let pass = 0; pass <= PATCHES; pass++) {
    bench.tap();
    bench.seconds(PATCH_SECONDS * times);
  }
}

/** So many seconds after the tap that begins the first patch. */
function inFirstPatch(seconds: number): EveningBench {
  const bench = evening();
  bench.tap();
  bench.tap();
  bench.seconds(PATCH_SECONDS);
  bench.tap();
  bench.seconds(seconds);
  return bench;
}

const lag = (bench: EveningBench) => bench.ask({ type: 'get-setting', id: 0, name: 'lamp-lag-ms' });
/** Relay times without the light for focusing. */
const onPaper = (bench: EveningBench) => bench.pulses.slice(1);

describe('the lamp test', () => {
  it('gives one exposure of 4 s, then seven patches of sixteen pulses, for lags of 0 to 120 ms', () => {
    const bench = evening();
    giveTest(bench);
    const [long, ...short] = onPaper(bench);
    expect(long).toBe(4_000_000);
    expect(short).toHaveLength(PATCHES * PULSES);
    for (let patch = 0; patch < PATCHES; patch++) {
      // n pulses lose n lags, one long one loses one: computed from the model, (4000 + 15 L) / 16.
      const pulseUs = ((4000 + 15 * 20 * patch) * 1000) / 16;
      for (const us of short.slice(patch * PULSES, (patch + 1) * PULSES))
        expect(Math.abs(us - pulseUs)).toBeLessThanOrEqual(1);
    }
    expect(entries(bench, 'sheet')).toMatchObject([
      { job: 'lamp-test', baseMs: 4000, stepMs: 20, patches: 7 },
    ]);
    expect(entries(bench, 'exposure').at(-1)).toMatchObject({
      ...{ kind: 'lamp-test', patch: 7, plannedMs: 5800, onMs: 5800, outcome: 'complete', pauses: 0 },
    });
  });

  // A first-order lamp, integrated from its equations and from nothing of the firmware (host/darkroom/light/lamp.ts; time
  // constants of tungsten lamps: encyclopedia, "Incandescent light bulb", 90 % of the light after 0.13 s).
  it.each([
    { lagMs: 60, riseMs: 56, known: 0, patch: 4 },
    { lagMs: 20, riseMs: 30, known: 0, patch: 2 },
    { lagMs: 60, riseMs: 56, known: 56, patch: 4 },
    { lagMs: 120, riseMs: 120, known: 120, patch: 7 },
    { lagMs: 100, riseMs: 124, known: 124, patch: 6 },
    // Slower than that, every pulse, the long exposure and the steps are so many times as long.
    { lagMs: 120, riseMs: 130, known: 130, patch: 4, times: 2 },
    { lagMs: 160, riseMs: 240, known: 240, patch: 5, times: 2 },
    { lagMs: 320, riseMs: 500, known: 500, patch: 5, times: 4 },
    { lagMs: 480, riseMs: 1000, known: 1000, patch: 4, times: 8 },
  ])(
    'finds a lag of $lagMs ms, with a rise of $riseMs ms of which the board knows $known, at patch $patch',
    (lamp) => {
      const times = lamp.times ?? 1;
      const bench = evening(new SimulatedBoard(), lamp.known);
      const fromUs = bench.board.nowUs;
      giveTest(bench, times);
      const edges = bench.board.lampEdges.filter(({ atUs }) => atUs >= fromUs);
      const trace = new LampTrace(lampFromLagAndRise(lamp.lagMs, lamp.riseMs), edges);
      const patchEnd = (pulse: number) => edges[2 * pulse + 1]!.atUs + 700_000 * times;
      const doseMs = (first: number, last: number) => trace.lightMs(edges[2 * first]!.atUs, patchEnd(last));
      const longMs = doseMs(0, 0);
      const stops = Array.from({ length: PATCHES }, (_, at) =>
        Math.abs(Math.log2(doseMs(1 + at * PULSES, (at + 1) * PULSES) / longMs)),
      );
      expect(stops.indexOf(Math.min(...stops)) + 1).toBe(lamp.patch);
      // A quarter of a stop is the smallest step that shows (Buffaloe, "Test Exposures in Printing").
      expect(stops[lamp.patch - 1]).toBeLessThan(lamp.known === 0 ? 1 / 24 : 1 / 200);
    },
  );

  it.each([
    { lagMs: -500, riseMs: 1000, times: 10 },
    { lagMs: -300, riseMs: 20, times: 2 },
    { lagMs: 200, riseMs: 300, times: 3 },
  ])(
    'gives at its first patch what the long exposure gives, for a lamp with a lag of $lagMs ms and a rise of $riseMs',
    (lamp) => {
      const bench = evening(new SimulatedBoard(), lamp.riseMs);
      bench.tap();
      bench.push();
      for (let turns = 0; turns < 60 && !bench.panel[1]!.startsWith(`${lamp.lagMs} `); turns++)
        bench.turn(Math.sign(lamp.lagMs));
      expect(bench.panel[1]).toBe(`${lamp.lagMs} ms lag`);
      bench.push();
      bench.answer();
      const fromUs = bench.board.nowUs;
      bench.tap();
      bench.seconds(PATCH_SECONDS * lamp.times);
      bench.tap();
      bench.seconds(PATCH_SECONDS * lamp.times);
      const edges = bench.board.lampEdges.filter(({ atUs }) => atUs >= fromUs);
      expect(edges).toHaveLength(2 * (1 + PULSES));
      const trace = new LampTrace(lampFromLagAndRise(lamp.lagMs, lamp.riseMs), edges);
      const begunUs = edges[2]!.atUs;
      const longMs = trace.lightMs(fromUs, begunUs);
      const pulsesMs = trace.lightMs(begunUs, Number.POSITIVE_INFINITY);
      // Relay times are of whole milliseconds for all pulses together.
      expect(Math.abs(pulsesMs - longMs)).toBeLessThan(2);
    },
  );

  // A rise above 125 ms was refused: a sixteenth of 4 s is no more than two rises of it.
  it('of a slow lamp is longer, says so, and is logged so', () => {
    const bench = evening(new SimulatedBoard(), 300);
    expect(bench.panel).toEqual(['Tap test Hold focus', '12.00 s mid grey', 'Lamp test', '0 to 360 ms lag']);
    giveTest(bench, 3);
    expect(entries(bench, 'sheet')).toMatchObject([{ job: 'lamp-test', baseMs: 12_000, stepMs: 60 }]);
    bench.turn(1);
    bench.turn(-1);
    expect(bench.panel.slice(1, 3)).toEqual(['150 ms lag', 'Between 3 and 4']);
  });

  it('can be given for any rise and lag that a lamp may have', () => {
    for (const riseMs of [0, 1, 56, 125, 126, 400, 875, 1000]) {
      const bench = evening(new SimulatedBoard(), riseMs);
      bench.tap();
      bench.push();
      // Each click by itself: one that cannot be planned would stop here.
      for (let turns = 0; turns < 26; turns++) bench.turn(-1);
      expect(bench.panel[1]).toBe('-500 ms lag');
      for (let turns = 0; turns < 4; turns++) bench.turn(24);
      bench.hold();
      expect(bench.panel[3]).toMatch(/ to 1000 ms lag$/);
      expect(bench.panel[0]).toBe('Tap test Hold focus');
    }
  });

  it('is read as it was given, whatever was turned or set since', () => {
    const bench = evening();
    giveTest(bench);
    bench.ask({ type: 'set-setting', id: 0, name: 'lamp-rise-ms', value: 700 });
    expect(bench.panel[3]).toBe('Push knob: read it');
    bench.push();
    bench.turn(-2);
    expect(bench.panel.slice(1, 3)).toEqual(['40 ms lag', 'Patch 3/7']);
  });

  it('keeps safelight and display dark between the pulses, and lights them when the patch is given', () => {
    const bench = inFirstPatch(0.5);
    expect(bench.board.lampOn).toBe(false);
    expect(bench.board.safelightOn).toBe(false);
    expect(bench.panel.slice(0, 2)).toEqual(['Press pause Hold end', 'Pulse 2/16 test']);
    bench.seconds(PATCH_SECONDS);
    expect(bench.board.safelightOn).toBe(true);
  });

  it('goes on by itself from pulse to pulse, and stays dark after a press between two of them', () => {
    const bench = inFirstPatch(0.5);
    const given = bench.pulses.length;
    bench.board.pedal(true);
    bench.seconds(0.1);
    bench.board.pedal(false);
    bench.seconds(10);
    expect(bench.pulses).toHaveLength(given);
    expect(bench.board.safelightOn).toBe(true);
    expect(bench.panel[0]).toBe('Tap go on Hold end');
    bench.tap();
    bench.seconds(PATCH_SECONDS);
    expect(onPaper(bench)).toHaveLength(1 + PULSES);
    expect(entries(bench, 'exposure').at(-1)).toMatchObject({
      patch: 1,
      outcome: 'complete',
      pauses: 1,
      onMs: 4000,
    });
  });

  it('held down in the middle ends with the lamp off, and the log has what was given', () => {
    const bench = inFirstPatch(3.1);
    bench.hold();
    bench.seconds(5);
    expect(bench.panel[0]).toBe('Tap go on Hold focus');
    expect(bench.board.lampOn).toBe(false);
    const last = entries(bench, 'exposure').at(-1);
    const onUs = onPaper(bench)
      .slice(1)
      .reduce((sum, us) => sum + us, 0);
    expect(last).toMatchObject({ patch: 1, outcome: 'stopped', onMs: Math.round(onUs / 1000) });
    expect(entries(bench, 'sheet-ended')).toMatchObject([{ outcome: 'stopped', wasted: 1 }]);
  });

  it('read: the lag is that of the patch that matches, in use at once and after the power was off', () => {
    const board = new SimulatedBoard();
    const bench = evening(board);
    giveTest(bench);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['60 ms lag', 'Patch 4/7', 'Knob: which matches']);
    bench.turn(-1);
    expect(bench.panel.slice(1, 3)).toEqual(['50 ms lag', 'Between 3 and 4']);
    bench.push();
    expect(bench.panel[0]).toBe('Tap strip Hold focus');
    expect(lag(bench)).toMatchObject([{ value: 50 }]);
    expect(entries(bench, 'test-result')).toMatchObject([{ what: 'lamp-lag-ms', value: 50 }]);
    bench.seconds(2);
    board.cutPower();
    board.restorePower();
    const later = new EveningBench(board);
    later.greet();
    expect(lag(later)).toMatchObject([{ value: 50 }]);
  });

  it('all too light: the lag is longer, and the next test goes on from the last patch', () => {
    const bench = evening();
    giveTest(bench);
    bench.turn(1);
    bench.turn(20);
    expect(bench.panel[2]).toBe('All too light');
    bench.push();
    expect(bench.panel).toEqual(['Tap test Hold focus', '4.00 s mid grey', 'Lamp test', '120 to 240 ms lag']);
    expect(lag(bench)).toMatchObject([{ value: 0 }]);
  });

  it('all too dark: the afterglow outweighs the rise, and the next test ends with the first patch', () => {
    const bench = evening();
    giveTest(bench);
    bench.turn(1);
    bench.turn(-20);
    bench.push();
    expect(bench.panel.slice(2)).toEqual(['Lamp test', '-120 to 0 ms lag']);
    giveTest(bench);
    expect(entries(bench, 'sheet-ended').at(-1)).toMatchObject({ outcome: 'complete' });
  });

  it('begins where the knob says, and is longer where a pulse would be too short for a relay', () => {
    const bench = evening();
    bench.tap();
    bench.push();
    bench.turn(3);
    expect(bench.panel.slice(1)).toEqual(['60 ms lag', 'Lamp test', 'Knob: first patch']);
    bench.turn(-12);
    expect(bench.panel[1]).toBe('-180 ms lag');
    bench.turn(-20);
    expect(bench.panel[1]).toBe('-500 ms lag');
    bench.hold();
    expect(bench.panel.slice(1)).toEqual(['12.00 s mid grey', 'Lamp test', '-500 to -140 ms lag']);
  });
});

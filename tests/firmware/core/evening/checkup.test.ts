import { describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

const SHELF_AT = 0x12_0000 / limits.sectorBytes;
const PULL_INS_SECONDS = 32;
const DOTS = '█'.repeat(20);

/** At the checkup, all the way to the right, with a laptop that watches. */
function atTheCheckup(board = new SimulatedBoard()): EveningBench {
  const bench = new EveningBench(board);
  bench.greet();
  bench.ask({ type: 'watch', id: 0, on: true });
  bench.turn(9);
  return bench;
}

function pedalFine(bench: EveningBench): void {
  bench.tap();
  bench.tap();
  bench.tap();
}

function knobFine(bench: EveningBench): void {
  bench.turn(3);
  bench.turn(-3);
  bench.push();
}

/** Up to the question whether the mains box is unplugged. */
function upToTheBox(bench: EveningBench): void {
  pedalFine(bench);
  knobFine(bench);
  for (let steps = 0; steps < 3; steps++) bench.tap();
}

const told = (bench: EveningBench) => {
  bench.ask({ type: 'ping', id: 0 });
  return bench.notices.flatMap((notice) =>
    notice.type === 'checked' ? [[notice.step, notice.isFine, notice.first, notice.second]] : [],
  );
};

describe('the checkup', () => {
  it('lies beyond the tests on the knob, asks nothing of the lens, and goes step by step where all is well', () => {
    const bench = atTheCheckup();
    expect(bench.panel).toEqual(['Tap check Hold focus', '', 'Checkup', 'Faults: 0']);
    bench.tap();
    expect(bench.panel).toEqual([
      ...['Tap yes Hold rest', 'Press the pedal', 'bounces 0, ms 0', 'Push knob: no'],
    ]);
    bench.tap();
    expect(bench.panel[2]).toBe('bounces 0, ms 120');
    bench.tap();
    expect(bench.panel).toEqual([
      ...['Tap no Hold rest', 'Turn right 3, left 3', 'right 0, left 0', 'then push'],
    ]);
    bench.push();
    expect(bench.panel[2]).toBe('right 0, left 0');
    knobFine(bench);
    expect(bench.panel).toEqual(['Tap yes Hold rest', DOTS, DOTS, DOTS]);
    bench.tap();
    expect(bench.panel).toEqual(['Tap yes Hold rest', 'Tone', 'Heard it each time?', 'Push knob: no']);
    bench.tap();
    expect(bench.panel.slice(1, 3)).toEqual(['Flash', 'bad sectors 0 of 96']);
    bench.tap();
    expect(bench.panel).toEqual([
      ...['Unplugged? Tap yes', 'Mains box unplugged,', 'no paper below?', 'Push knob: no'],
    ]);
    bench.tap();
    expect(bench.panel.slice(1, 3)).toEqual(['Safelight relay', 'Heard it each time?']);
    bench.tap();
    expect(bench.panel).toEqual(['Tap start Hold back', '100 x 0.10 s', 'Lamp relay', 'Screen must stay']);
    bench.tap();
    bench.seconds(PULL_INS_SECONDS);
    expect(bench.panel.slice(1, 3)).toEqual(['Lamp relay', 'Heard it each time?']);
    bench.tap();
    expect(bench.panel).toEqual(['Tap check Hold focus', '', 'Checkup', 'Faults: 0']);
    expect(told(bench)).toEqual([
      ['pedal', true, 0, 120],
      ['knob', true, 3, 3],
      ['display', true, 0, 0],
      ['tone', true, 0, 0],
      ['flash', true, 0, 96],
      ...['unplugged', 'safelight', 'lamp'].map((step) => [step, true, 0, 0]),
    ]);
  });

  it('tells the whole milliseconds for which the pedal was closed, and none that had only begun', () => {
    const bench = atTheCheckup();
    bench.tap();
    bench.board.pedal(true);
    bench.board.advanceUs(340_999);
    bench.board.pedal(false);
    bench.seconds(0.5);
    expect(bench.panel[2]).toBe('bounces 0, ms 340');
  });

  it('has nothing for the knob to turn where the lamp relay is next, and clicks at the tap', () => {
    const bench = atTheCheckup();
    upToTheBox(bench);
    for (let steps = 0; steps < 2; steps++) bench.tap();
    const before = bench.panel;
    expect(before[0]).toBe('Tap start Hold back');
    bench.push();
    expect(bench.panel).toEqual(before);
    bench.turn(1);
    expect(bench.panel).toEqual(before);
    bench.tap();
    bench.seconds(PULL_INS_SECONDS);
    expect(bench.pulses).toHaveLength(100);
  });

  it('counts what the pedal bounces', () => {
    const bench = atTheCheckup();
    bench.tap();
    for (const down of [true, false, true, false]) {
      bench.board.pedal(down);
      bench.board.advanceUs(90);
    }
    bench.tap();
    expect(bench.panel[2]).toBe('bounces 4, ms 120');
  });

  it('says that the wires of the knob are swapped when it counts left for right, whatever is turned then', () => {
    const bench = atTheCheckup();
    pedalFine(bench);
    bench.turn(-3);
    expect(bench.panel[3]).toBe('A and B are swapped');
    bench.turn(5);
    expect(bench.panel.slice(2)).toEqual(['right 0, left 3', 'A and B are swapped']);
    bench.push();
    expect(told(bench).at(-1)).toEqual(['knob', false, 0, 3]);
  });

  it('goes on by the foot where the knob cannot be pushed, and by the knob where the pedal never closes', () => {
    const bench = atTheCheckup();
    bench.push();
    bench.push();
    bench.turn(3);
    bench.turn(-3);
    bench.tap();
    expect(told(bench)).toEqual([
      ['pedal', false, 0, 0],
      ['knob', false, 3, 3],
    ]);
    bench.hold();
    expect(bench.panel[3]).toBe('Faults: 2');
  });

  it('shows every dot, and takes the light down to darkness, again and again', () => {
    const bench = atTheCheckup();
    pedalFine(bench);
    knobFine(bench);
    bench.askAtOnce({ type: 'ping', id: 0 });
    bench.notices.length = 0;
    const seen = Array.from({ length: 8 }, () => {
      bench.seconds(1);
      return { light: bench.board.displayLightPercent, row: bench.panel[1] };
    });
    expect(seen.map(({ light }) => light)).toEqual([66, 33, 0, 99, 66, 33, 0, 99]);
    // Dots while they can be seen best; the question for as long as the light fades.
    for (const { light, row } of seen) expect(row).toBe(light === 99 ? DOTS : 'Dots, light fades?');
    bench.askAtOnce({ type: 'ping', id: 0 });
    const rows = bench.notices.flatMap((line) => (line.type === 'shown' ? [line.row] : []));
    expect(new Set(rows)).toEqual(new Set([1, 2, 3]));
    bench.seconds(3);
    expect(bench.board.displayLightPercent).toBe(0);
    bench.push();
    expect(bench.board.displayLightPercent).toBe(30);
    expect(told(bench).at(-1)).toEqual(['display', false, 0, 0]);
  });

  it('sounds once a second until it is answered', () => {
    const bench = atTheCheckup();
    pedalFine(bench);
    knobFine(bench);
    bench.tap();
    const before = bench.board.tones.length;
    bench.seconds(3.6);
    const sounds = bench.board.tones.slice(before).filter(({ hz }) => hz > 0);
    expect(sounds).toHaveLength(6); // short, long
    bench.push();
    expect(told(bench).at(-1)).toEqual(['tone', false, 0, 0]);
    const after = bench.board.tones.length;
    bench.seconds(3);
    expect(bench.board.tones.slice(after).every(({ hz }) => hz === 0)).toBe(true);
  });

  it('writes a sector, and counts those that it had to give up', () => {
    const flash = new Flash();
    const bench = atTheCheckup(new SimulatedBoard({ flash }));
    // They take turns, from the second on.
    for (const sector of [1, 2]) flash.wearOut(SHELF_AT + sector);
    upToTheBox(bench);
    expect(told(bench).at(-1)).toEqual(['flash', false, 2, 96]);
    bench.hold();
    expect(bench.panel[3]).toBe('Faults: 1');
  });

  it('says that the flash is at fault where nothing of it can be written', () => {
    const flash = new Flash();
    const bench = atTheCheckup(new SimulatedBoard({ flash }));
    for (let sector = 0; sector < 96; sector++) flash.wearOut(SHELF_AT + sector);
    upToTheBox(bench);
    expect(told(bench).at(-1)![1]).toBe(false);
  });

  it('clicks no relay before the printer has said that the mains box is unplugged, and none after a no', () => {
    const bench = atTheCheckup();
    upToTheBox(bench);
    bench.seconds(5);
    expect(bench.board.safelightOn).toBe(true);
    bench.push();
    expect(bench.panel[0]).toBe('Tap check Hold focus');
    bench.seconds(5);
    expect([bench.board.safelightOn, bench.pulses]).toEqual([true, []]);
  });

  it('clicks the safelight each second, then the lamp a hundred times, and logs that on no sheet', () => {
    const bench = atTheCheckup();
    upToTheBox(bench);
    bench.tap();
    const safelight = Array.from({ length: 4 }, () => {
      bench.seconds(1);
      return bench.board.safelightOn;
    });
    expect(safelight).toEqual([false, true, false, true]);
    bench.tap();
    bench.tap();
    bench.seconds(5);
    expect([bench.board.safelightOn, bench.panel[1]!.startsWith('Pulse ')]).toEqual([false, true]);
    bench.seconds(PULL_INS_SECONDS);
    expect(bench.board.safelightOn).toBe(true);
    expect(bench.pulses).toEqual(Array.from({ length: 100 }, () => 100_000));
    expect(entries(bench, 'sheet')).toEqual([]);
    expect(entries(bench, 'exposure')).toMatchObject([
      { kind: 'checkup', sheet: 0, recipe: '', onMs: 10_000, plannedMs: 10_000, outcome: 'complete' },
    ]);
  });

  it('stops clicking at a press, and the log has as many as there were', () => {
    const bench = atTheCheckup();
    upToTheBox(bench);
    bench.tap();
    bench.tap();
    bench.tap();
    bench.seconds(1);
    bench.tap();
    const { length } = bench.pulses;
    bench.seconds(5);
    expect(bench.pulses).toHaveLength(length);
    bench.hold();
    bench.seconds(1);
    const onUs = bench.pulses.reduce((sum, us) => sum + us, 0);
    expect(entries(bench, 'exposure')).toMatchObject([
      { kind: 'checkup', onMs: Math.round(onUs / 1000), outcome: 'stopped' },
    ]);
  });

  it('leaves a reset among the clicks in the log, as interrupted, with the reason of the start behind it', () => {
    const bench = atTheCheckup();
    upToTheBox(bench);
    bench.tap();
    bench.tap();
    bench.tap();
    bench.seconds(10);
    bench.board.reset('power');
    bench.seconds(1);
    bench.greet();
    expect(bench.board.lampOn).toBe(false);
    expect(entries(bench, 'exposure')).toMatchObject([{ kind: 'checkup', outcome: 'interrupted' }]);
    expect(entries(bench, 'started').at(-1)).toMatchObject({ cause: 'power', boot: 2 });
  });

  it('is not begun while a sheet is under way: left, or on its way to the baths', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    bench.tap();
    bench.tap();
    bench.seconds(1);
    bench.hold();
    bench.turn(1);
    bench.turn(9);
    expect(bench.panel).toEqual(['Turn knob Hold focus', '', 'Checkup', 'A sheet is still out']);
    bench.tap();
    expect(bench.panel[0]).toBe('Turn knob Hold focus');
  });

  it('can be chosen by a laptop, which can neither begin it nor move it on', () => {
    const bench = new EveningBench();
    bench.greet();
    expect(bench.ask({ type: 'choose', id: 0, job: 'checkup', name: '' })).toMatchObject([{ type: 'ok' }]);
    expect(bench.panel[0]).toBe('Tap check Hold focus');
    upToTheBox(bench);
    expect(bench.ask({ type: 'choose', id: 0, job: 'strip', name: '' })).toMatchObject([
      { type: 'error', code: 'not-allowed' },
    ]);
    bench.ask({ type: 'set-setting', id: 0, name: 'tone-volume', value: 3 });
    expect(bench.panel[0]).toBe('Unplugged? Tap yes');
  });
});

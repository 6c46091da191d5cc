import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

const SECTORS_OF_LOG = 284;
/** So many in a row take the board longer than a foot takes to come again. */
const SOME = 60;

/** Before the first light of a print; from now on nothing can be written in so many of the log's sectors. */
function readyOn(wornSectors: number): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  bench.seconds(1);
  for (let sector = 0; sector < wornSectors; sector++) bench.board.flash.wearOut(sector);
  bench.tap();
  bench.answer();
  bench.seconds(0.3);
  return bench;
}

/** Relay times on paper: the first was for focusing. */
const onPaper = (bench: EveningBench) => bench.pulses.slice(1);

describe('a log whose flash is worn out', () => {
  it('keeps the lamp off, and the panel says why', () => {
    const bench = readyOn(SECTORS_OF_LOG);
    bench.tap();
    bench.seconds(40);
    expect([bench.panel[0], bench.panel[3]]).toEqual(['Turn knob Hold focus', 'Log cannot be kept']);
    for (let taps = 0; taps < 3; taps++) {
      bench.tap();
      bench.seconds(40);
      expect(bench.panel[0]).toBe('Turn knob Hold focus');
    }
    expect(onPaper(bench)).toEqual([]);
  });

  it('in part makes a start slow: another press calls it off, and no light comes of it', () => {
    const bench = readyOn(SOME);
    const before = bench.panel;
    bench.tap();
    expect(bench.panel).toEqual(['Press: cancel', ...before.slice(1)]);
    bench.tap();
    bench.seconds(60);
    expect(bench.panel).toEqual(before);
    expect(onPaper(bench)).toEqual([]);
  });

  it('in part is worked round: the next lights are given, and the log has each', () => {
    const bench = readyOn(SOME);
    for (let taps = 0; taps < 4; taps++) {
      bench.answer();
      bench.tap();
      bench.seconds(40);
    }
    bench.hold();
    bench.seconds(2);
    const givenMs = onPaper(bench).reduce((sum, us) => sum + us / 1000, 0);
    expect(givenMs).toBeGreaterThan(0);
    const loggedMs = entries(bench, 'exposure').reduce(
      (sum, entry) => sum + (entry.type === 'exposure' && entry.kind !== 'focus' ? entry.onMs : 0),
      0,
    );
    expect(Math.abs(loggedMs - givenMs)).toBeLessThan(5);
  });
});

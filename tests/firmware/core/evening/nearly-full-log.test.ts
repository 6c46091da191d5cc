import { describe, expect, it } from 'vitest';
import { limits } from '../../../../shared-protocol/limits.js';
import { boathouse } from './boathouse.js';
import { chooseWork } from './choose-work.js';
import { EveningBench } from './evening-bench.js';

const LOG_SECTORS = 284;
/** What a sheet may need beside its passes, by the notes on the core. */
const BESIDE_PASSES = 24;
const LOG_FULL = 'Log full: collect it';

function entriesLeft(bench: EveningBench): number {
  const [status] = bench.ask({ type: 'ping', id: 0 });
  return status?.type === 'status' ? status.entriesLeft : Number.NaN;
}

let clocks = 0;
const setClock = (bench: EveningBench) =>
  bench.ask({ type: 'set-clock', id: 0, epochMs: 1_800_000_000_000 + clocks++ });

/** A log with room for so many more: nearly all of its sectors are worn out, and an entry takes three of those. */
function withRoom(left: number): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const name of ['lens-check', 'confirm-filter'] as const)
    bench.ask({ type: 'set-setting', id: 0, name, value: 0 });
  bench.print(boathouse);
  chooseWork(bench, 'plain');
  bench.seconds(1);
  const perSector = limits.sectorBytes / limits.pageBytes;
  for (let sector = 3; sector < LOG_SECTORS - 4; sector++) bench.board.flash.wearOut(sector);
  while (entriesLeft(bench) > 7 * perSector) setClock(bench);
  while (entriesLeft(bench) > left) setClock(bench);
  expect(entriesLeft(bench)).toBe(left);
  return bench;
}

describe('a log that is nearly full', () => {
  it('has room for a last sheet, and behind it the panel is at rest and says why there is no other', () => {
    const bench = withRoom(BESIDE_PASSES + 1);
    expect(bench.panel[3]).not.toBe(LOG_FULL);
    bench.tap();
    bench.tap();
    bench.seconds(20);
    expect(bench.panel[3]).toBe('Sheet 1 done');
    expect(bench.pulses).toEqual([10_000_000]);
    expect(entriesLeft(bench)).toBeLessThan(BESIDE_PASSES + 1);
    bench.tap();
    expect([bench.panel[0], bench.panel[3]]).toEqual(['Turn knob Hold focus', LOG_FULL]);
  });

  it('has room for a sheet as long as it has some for each pass beside what else may be told of it', () => {
    for (const [job, passes] of [
      ['plain', 1],
      ['recipe', boathouse.passes.length],
    ] as const) {
      const bench = withRoom(BESIDE_PASSES + passes);
      chooseWork(bench, job);
      bench.tap();
      expect(bench.panel[0]).toBe('Tap start Hold back');
      bench.holdKnob();
      while (entriesLeft(bench) === BESIDE_PASSES + passes) setClock(bench);
      bench.tap();
      expect([bench.panel[0], bench.panel[3]]).toEqual(['Turn knob Hold focus', LOG_FULL]);
    }
  });

  it('counts what found no room when it is full', () => {
    const bench = withRoom(0);
    const lost = () => {
      const [counters] = bench.ask({ type: 'diagnose', id: 0 });
      return counters?.type === 'counters' ? counters.entriesLost : Number.NaN;
    };
    const before = lost();
    const { length } = bench.log();
    for (let entry = 0; entry < 3; entry++) setClock(bench);
    expect(lost()).toBe(before + 3);
    expect(bench.log()).toHaveLength(length);
  });
});

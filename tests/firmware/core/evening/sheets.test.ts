import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';

function giveRest(bench: EveningBench): void {
  for (let taps = 0; taps < 12 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.tap();
    bench.seconds(40);
  }
}

describe('the tally of sheets', () => {
  it('counts prints, strips and wasted sheets, and a sheet that saw no light not at all', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    bench.tap();
    giveRest(bench);
    bench.print(boathouse);
    bench.tap();
    giveRest(bench);
    bench.tap();
    bench.answer();
    bench.tap();
    bench.seconds(1);
    bench.hold();
    bench.turn(1); // another sheet
    bench.tap();
    bench.hold();
    bench.tap();
    giveRest(bench);
    // The last pass once more is no other sheet.
    bench.turn(-1);
    giveRest(bench);
    expect(bench.log().filter((entry) => entry.type === 'sheet-ended')).toMatchObject([
      { sheet: 1, outcome: 'complete', prints: 0, strips: 1, wasted: 0 },
      { sheet: 2, outcome: 'complete', prints: 1, strips: 1, wasted: 0 },
      { sheet: 3, outcome: 'stopped', prints: 1, strips: 1, wasted: 1 },
      { outcome: 'complete', prints: 2, strips: 1, wasted: 1 },
    ]);
  });

  it('counts a sheet that was left between two passes as wasted', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    bench.tap();
    bench.tap();
    bench.seconds(3);
    bench.hold();
    expect(bench.log().at(-1)).toMatchObject({ type: 'sheet-ended', outcome: 'stopped', wasted: 1 });
  });
});

import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';
import { heardSince } from './rhythm.js';

/** What is heard while something is done, and a second after it. */
function during(bench: EveningBench, act: () => void, seconds = 0.9): string {
  const fromUs = bench.board.nowUs;
  act();
  bench.seconds(seconds);
  return heardSince(bench, fromUs);
}

function ready(settings: Record<string, number> = {}): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.print(boathouse);
  for (const [name, value] of Object.entries(settings)) {
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  }
  bench.focusAndStopDown();
  bench.seconds(2);
  bench.tap();
  bench.answer();
  return bench;
}

const tap = (bench: EveningBench) => () => bench.tap();

describe('the tones', () => {
  it('tell dodge in and out, start, end and done apart by rhythm', () => {
    const bench = ready({ metronome: 0 });
    expect(during(bench, tap(bench))).toBe('short short');
    expect(during(bench, () => bench.seconds(2))).toBe('short short short');
    bench.tap();
    bench.seconds(5);
    expect(during(bench, tap(bench))).toBe('long');
    expect(during(bench, () => bench.seconds(6))).toBe('short long');
    for (let burns = 0; burns < 2; burns++) {
      bench.answer();
      bench.tap();
      bench.seconds(burns === 0 ? 14 : 2);
    }
    expect(during(bench, () => bench.seconds(4))).toBe('long long long');
  });

  it('call the card to be moved between the patches of a strip', () => {
    const bench = ready({ metronome: 0 });
    bench.hold();
    bench.ask({ type: 'choose', id: 0, job: 'strip', name: '' });
    bench.tap();
    bench.tap();
    bench.seconds(1);
    expect(during(bench, () => bench.seconds(1))).toBe('long short');
  });

  it('tick each second of light, unless the metronome is off', () => {
    const bench = ready();
    bench.tap();
    bench.seconds(0.5);
    expect(during(bench, () => bench.seconds(1.1), 0)).toBe('quick');
    const quiet = ready({ metronome: 0 });
    quiet.tap();
    quiet.seconds(0.5);
    expect(during(quiet, () => quiet.seconds(1.1), 0)).toBe('');
  });

  it('are five quick ones where something cannot be', () => {
    const bench = ready();
    for (let figures = 0; figures < 3; figures++) bench.push();
    expect(during(bench, () => bench.turn(9))).toBe('quick quick quick quick quick');
  });

  it('say that a print is kept, and nothing where only the screen changes', () => {
    const bench = ready();
    bench.turn(1);
    expect(during(bench, () => bench.hold(), 2)).toBe('short long');
    expect(during(bench, () => bench.holdKnob())).toBe('');
    expect(during(bench, () => bench.turn(1))).toBe('');
    expect(during(bench, () => bench.push())).toBe('short long');
    expect(during(bench, () => bench.hold())).toBe('');
  });

  it('are as loud as the setting says', () => {
    const bench = ready({ 'tone-volume': 7 });
    bench.tap();
    expect(bench.board.tones.filter(({ hz }) => hz > 0).at(-1)).toMatchObject({ volumePercent: 7 });
  });
});

describe('a display for panchromatic paper', () => {
  it('is dark during the exposure and no longer', () => {
    const bench = ready({ blackout: 1 });
    bench.tap();
    expect(bench.board.displayLightPercent).toBe(0);
    bench.seconds(4);
    expect(bench.board.displayLightPercent).toBe(30);
  });
});

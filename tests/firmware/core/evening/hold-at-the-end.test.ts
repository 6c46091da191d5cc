import { expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';

// A foot that came down just after the light began is not heard until it is a hold; that may be in the very moment at which
// the light ends by itself, before the board has told so.

type Work = 'print of one light' | 'print' | 'strip';

/** A foot is a hold after this, and its contact is believed some 200 us after it came down. */
const HOLD_US = 800_000;
const EARLIER_US = [
  0,
  100,
  150,
  ...Array.from({ length: 21 }, (_, at) => 190 + at),
  300,
  400,
  900,
  2000,
  9000,
];

function begin(job: Work): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
  bench.ask({ type: 'set-setting', id: 0, name: 'confirm-filter', value: 0 });
  const [base] = boathouse.passes;
  bench.print({
    ...boathouse,
    baseMs: 1000,
    passes: [{ ...base!, dodges: [] }, ...(job === 'print' ? boathouse.passes.slice(1) : [])],
  });
  const strip = {
    firstMs: 1000,
    stepStops120: 60,
    stepMs: 0,
    patches: 3,
    cover: 'separate',
    filter: '',
  } as const;
  if (job === 'strip') bench.ask({ type: 'strip-set', id: 0, ...strip });
  bench.tap();
  bench.tap();
  return bench;
}

/** The foot comes down so long before the light's end that it is a hold just then, and stays for a second. */
function holdAt(job: Work, lightUs: number, earlierUs: number): EveningBench {
  const bench = begin(job);
  const beganUs = bench.board.lampEdges.at(-1)!.atUs;
  const pressUs = beganUs + lightUs - HOLD_US - earlierUs;
  bench.board.advanceUs(pressUs - bench.board.nowUs);
  bench.board.pedal(true);
  bench.board.advanceUs(1_000_000);
  bench.board.pedal(false);
  bench.seconds(1);
  return bench;
}

/** How long the first light is that nobody breaks off. */
function lightOf(job: Work): number {
  const bench = begin(job);
  bench.seconds(3);
  return bench.pulses[0]!;
}

function giveRest(bench: EveningBench): void {
  for (let taps = 0; taps < 8 && !/^Tap (again|read)/.test(bench.panel[0]!); taps++) {
    bench.answer();
    bench.tap();
    bench.seconds(5);
  }
}

/** What the log has of one pass, or of one patch. */
const given = (bench: EveningBench, pass: number, patch: number) =>
  bench
    .log()
    .reduce(
      (sum, entry) =>
        sum + (entry.type === 'exposure' && entry.pass === pass && entry.patch === patch ? entry.doseMs : 0),
      0,
    );

it.each(['print of one light', 'print', 'strip'] as const)(
  'a hold in the moment at which the light of a %s ends leaves no light out of the log, and none of the sheet',
  (job) => {
    const lightUs = lightOf(job);
    expect(lightUs).toBeGreaterThan(0);
    const outcomes = new Set<string>();
    for (const earlierUs of EARLIER_US) {
      const bench = holdAt(job, lightUs, earlierUs);
      const where = `${earlierUs} us earlier`;
      expect(bench.board.lampOn, where).toBe(false);
      const lights = bench.log().flatMap((entry) => (entry.type === 'exposure' ? [entry] : []));
      const givenMs = lights.reduce((sum, { doseMs }) => sum + doseMs, 0);
      const litMs = bench.pulses.reduce((sum, us) => sum + us / 1000, 0);
      expect(Math.abs(givenMs - litMs), where).toBeLessThan(1.5);
      const [first] = lights;
      expect(first!.outcome, where).toBe(
        Math.abs(first!.doseMs - first!.plannedMs) < 1 ? 'complete' : 'stopped',
      );
      const ended = bench.log().find((entry) => entry.type === 'sheet-ended');
      // Done, or left and to be gone on with.
      const isWhole = ended?.type === 'sheet-ended' && ended.outcome === 'complete';
      expect(isWhole, where).toBe(job === 'print of one light' && first!.outcome === 'complete');
      expect(bench.panel[0]!.startsWith('Tap go on'), where).toBe(!isWhole);
      outcomes.add(first!.outcome);
      if (isWhole) continue;
      giveRest(bench);
      expect(given(bench, first!.pass, first!.patch), where).toBe(first!.plannedMs);
    }
    expect([...outcomes].toSorted()).toEqual(['complete', 'stopped']);
  },
);

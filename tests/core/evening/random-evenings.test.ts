import { describe, expect, it } from 'vitest';
import { Random } from '../../setup/random.js';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';
import { brokenPromise } from './promises.js';

const EVENTS = 1_000_000;
const EVENTS_AN_EVENING = 20_000;
/** The longest pulse of what is printed here, and the limit of the light for focusing. */
const LONGEST_EXPOSURE_US = 32_000_000;
const FOCUS_LIMIT_US = 180_000_000;
/** Longer than the pedal is deaf after the lamp has gone on or out. */
const HEARD_AGAIN_SECONDS = 0.3;

function anyTimeUs(random: Random): number {
  return random.below(random.pick([100, 1000, 30_000, 300_000, 1_500_000, 12_000_000]));
}

function anyEvent(bench: EveningBench, random: Random): void {
  switch (random.below(8)) {
    case 0:
    case 1:
    case 2:
      bench.board.pedal(random.chance(0.5));
      break;
    case 3:
      bench.board.knobPush(random.chance(0.5));
      break;
    case 4:
      bench.board.knobTurn(random.below(7) - 3);
      break;
    case 5:
      bench.noise(random.bytes(1 + random.below(20)));
      break;
    default:
      bench.board.advanceUs(anyTimeUs(random));
  }
}

function faultOf(bench: EveningBench): string | undefined {
  const [promise] = bench.panel;
  if (bench.board.lampOn && !promise!.startsWith('Press')) return `lamp on at '${promise}'`;
  if (!bench.board.lampOn && promise!.startsWith('Press')) return `lamp off at '${promise}'`;
  return bench.panel.some((row) => row.length > 20) ? 'a row is too long' : undefined;
}

function release(bench: EveningBench): void {
  bench.board.pedal(false);
  do bench.seconds(HEARD_AGAIN_SECONDS);
  while (bench.board.nowUs - (bench.board.lampEdges.at(-1)?.atUs ?? 0) < HEARD_AGAIN_SECONDS * 1_000_000);
}

/** From anywhere at most two holds lead to rest: one out of what is going on, one for the lens. */
function restFault(bench: EveningBench): string | undefined {
  for (let holds = 0; holds < 3; holds++) {
    release(bench);
    if (bench.panel[0]!.includes('Hold light') || bench.panel[0] === 'Hold: light') {
      return bench.board.lampOn ? 'the lamp is on at rest' : undefined;
    }
    bench.hold();
  }
  return `holding led to '${bench.panel[0]}'`;
}

function randomEvening(seed: number, fault: (words: string | undefined, event: number) => void): void {
  const random = new Random(seed);
  const bench = new EveningBench();
  bench.greet();
  if (random.chance(0.7)) bench.print(boathouse);
  for (let event = 0; event < EVENTS_AN_EVENING; event++) {
    anyEvent(bench, random);
    fault(faultOf(bench), event);
    if (random.chance(0.002)) fault(restFault(bench), event);
    if (random.chance(0.02)) {
      release(bench);
      fault(brokenPromise(bench), event);
    }
  }
  const longest = Math.max(...bench.pulses);
  fault(longest > FOCUS_LIMIT_US ? `a pulse of ${longest} us` : undefined, EVENTS_AN_EVENING);
  bench.greet();
  for (const entry of bench.log()) {
    if (entry.type !== 'exposure' || entry.kind === 'focus') continue;
    const longMs = Math.max(entry.plannedMs, LONGEST_EXPOSURE_US / 1000);
    if (entry.onMs > longMs + 1) fault(`an exposure of ${entry.onMs} ms`, EVENTS_AN_EVENING);
  }
}

describe('whatever pedal, knob and line do', () => {
  it(`in ${EVENTS} events the lamp is on only where it may be, and the panel keeps its word`, () => {
    for (let seed = 1; seed <= EVENTS / EVENTS_AN_EVENING; seed++) {
      randomEvening(seed, (words, event) => {
        if (words !== undefined) expect.fail(`seed ${seed}, event ${event}: ${words}`);
      });
    }
  }, 300_000);
});

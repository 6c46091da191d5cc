import { describe, expect, it } from 'vitest';
import { Random } from '../../../setup/random.js';
import { EveningBench } from './evening-bench.js';
import { brokenPrompt } from './prompts.js';
import { anyEvent, anyGesture, anyWork } from './random-evening.js';

/** CI goes on for a million. */
const USUAL_EVENTS = 300_000;
const EVENTS = Number(process.env.TREADLE_EVENTS ?? USUAL_EVENTS);
const EVENTS_AN_EVENING = Math.min(20_000, EVENTS);
/** The limit of the light for focusing. */
const FOCUS_LIMIT_US = 180_000_000;
/** Longer than the pedal is deaf after the lamp has gone on or out. */
const HEARD_AGAIN_SECONDS = 0.3;

/** Every prompt that the panel gave in all evenings together. */
const promptsSeen = new Set<string>();
const EVERY_PROMPT = [
  ...['Tap strip', 'Tap print', 'Tap sheet', 'Tap test', 'Tap baths', 'Tap lens'].map(
    (tap) => `${tap} Hold focus`,
  ),
  ...['Turn knob Hold focus', 'Press: light off', 'Stopped down? Hold', 'Let go of the pedal'],
  ...[
    'Tap start Hold back',
    'Filter in? Tap',
    'Tap go on Hold focus',
    'Tap done Hold back',
    'Tap yes Hold back',
    'Press pause Hold end',
    'Tap go on Hold end',
    'Tap accept Hold rest',
  ],
  ...[
    'Tap clock Hold focus',
    'Tap set Hold rest',
    'Tap keep Hold rest',
    'Tap done Hold rest',
    'Tap again Hold rest',
    'Tap baths Hold rest',
    'Tap read Hold rest',
  ],
  ...[
    'Tap sheet Hold rest',
    'Tap bath Hold back',
    'Tap next Hold back',
    'Tap begin Hold back',
    'Hold: back to rest',
  ],
  ...['Tap check Hold focus', 'Tap yes Hold rest', 'Tap no Hold rest', 'Unplugged? Tap yes'],
];

function faultOf(bench: EveningBench): string | undefined {
  const [prompt, seconds] = bench.panel;
  promptsSeen.add(prompt!);
  const betweenPulses = seconds!.startsWith('Pulse ');
  if (bench.board.lampOn && !prompt!.startsWith('Press')) return `lamp on at '${prompt}'`;
  if (!bench.board.lampOn && !betweenPulses && prompt!.startsWith('Press')) return `lamp off at '${prompt}'`;
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
    if (bench.panel[0]!.includes('Hold focus')) {
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
  anyWork(bench, random);
  let isDiligent = random.chance(0.5);
  for (let event = 0; event < EVENTS_AN_EVENING; event++) {
    if (isDiligent) anyGesture(bench, random);
    else anyEvent(bench, random);
    if (random.chance(isDiligent ? 0.02 : 0.003)) isDiligent = !isDiligent;
    fault(faultOf(bench), event);
    if (random.chance(0.002)) fault(restFault(bench), event);
    if (random.chance(0.02)) {
      release(bench);
      fault(brokenPrompt(bench), event);
    }
  }
  bench.greet();
  // On paper no pulse is longer than what the log says was planned: a quick turn of the knob goes far.
  let longestUs = FOCUS_LIMIT_US;
  for (const entry of bench.log()) {
    if (entry.type !== 'exposure' || entry.kind === 'focus') continue;
    longestUs = Math.max(longestUs, entry.plannedMs * 1000);
    if (entry.doseMs > entry.plannedMs + 1) fault(`${JSON.stringify(entry)}`, EVENTS_AN_EVENING);
  }
  const longest = Math.max(...bench.pulses);
  fault(longest > longestUs ? `a pulse of ${longest} us` : undefined, EVENTS_AN_EVENING);
}

describe('whatever pedal, knob and line do', () => {
  it(`in ${EVENTS} events the lamp is on only where it may be, and the panel keeps its word, whatever it says`, () => {
    for (let seed = 1; seed <= EVENTS / EVENTS_AN_EVENING; seed++) {
      randomEvening(seed, (words, event) => {
        if (words !== undefined) expect.fail(`seed ${seed}, event ${event}: ${words}`);
      });
    }
    // Fewer events than that do not come by all of them.
    if (EVENTS >= USUAL_EVENTS) expect([...promptsSeen].sort()).toEqual(EVERY_PROMPT.sort());
  }, 300_000);
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { RelayEdge } from '../../../../host/darkroom/light/lamp.js';
import { seed } from '../../../shared-protocol/arbitrary-message.js';
import { type LampFigures, lampByDefinition } from '../lamp-by-definition.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';
import { integratedLightMs } from './integrated-light.js';

// A lamp that has not gone cold when it comes on again. The judge integrates the lamp's two equations step by step from
// the relay's edges (integrated-light.ts) and knows no formula of an exposure; source of the lamp: lamp-by-definition.ts.

/** One whose afterglow lasts: its fall is rise - lag. */
function anySlowLamp(): fc.Arbitrary<LampFigures> {
  return fc
    .record({
      riseMs: fc.integer({ min: 20, max: 600 }),
      part: fc.double({ min: -0.8, max: 0.9, noNaN: true }),
    })
    .map(({ riseMs, part }) => ({ riseMs, lagMs: Math.max(-500, Math.round(riseMs * part)) }));
}

function atTheLamp({ lagMs, riseMs }: LampFigures): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  const settings = { 'lamp-lag-ms': lagMs, 'lamp-rise-ms': riseMs, 'lens-check': 0, metronome: 0 } as const;
  for (const [name, value] of Object.entries(settings))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  return bench;
}

/** Taps until the sheet is done, with a press to pause at some of the moments, soon followed by the next tap. */
function giveAll(bench: EveningBench, pausesS: readonly number[], waitsS: readonly number[]): void {
  const pauses = [...pausesS];
  for (let tap = 0; tap < 60 && !bench.panel[0]!.startsWith('Tap again'); tap++) {
    bench.seconds(waitsS[tap % waitsS.length]!);
    bench.tap();
    const pauseS = pauses.shift();
    bench.seconds(pauseS ?? 0.3);
    if (bench.board.lampOn && pauseS !== undefined) bench.tap();
    while (bench.board.lampOn) bench.seconds(0.05);
  }
}

function lightMs(lamp: LampFigures, edges: readonly RelayEdge[]): number {
  return integratedLightMs(lampByDefinition(lamp), edges, edges.at(-1)!.atUs + 20_000_000);
}

const anyWaits = fc.array(fc.double({ min: 0.01, max: 1.5, noNaN: true }), { minLength: 3, maxLength: 7 });
const anyPauses = fc.array(fc.double({ min: 0.26, max: 4, noNaN: true }), { maxLength: 6 });

describe('a lamp that is still warm', () => {
  it('gives a print its light within a millisecond, whatever the pauses, dodges and burns', () => {
    let judged = 0;
    let worstColdMs = 0;
    fc.assert(
      fc.property(
        anySlowLamp(),
        anyPauses,
        anyWaits,
        fc.integer({ min: 3000, max: 20_000 }),
        (lamp, pausesS, waitsS, baseMs) => {
          const bench = atTheLamp(lamp);
          bench.print({
            ...{ name: 'quay', baseMs },
            passes: [
              {
                kind: 'base',
                label: 'all',
                filter: '',
                stops120: 0,
                dodges: [{ label: 'dog', stops120: -60 }],
              },
              { kind: 'burn', label: 'sky', filter: '', stops120: 120 },
            ],
          });
          if (!bench.panel[0]!.startsWith('Tap print')) return;
          bench.tap();
          giveAll(bench, pausesS, waitsS);
          const edges = bench.board.lampEdges;
          const given = entries(bench, 'exposure') as { plannedMs: number; doseMs: number }[];
          const plannedMs = given.reduce((sum, entry) => sum + entry.plannedMs, 0);
          expect(plannedMs).toBe(2 * baseMs);
          expect(Math.abs(lightMs(lamp, edges) - plannedMs)).toBeLessThan(1);
          for (const entry of given) expect(Math.abs(entry.doseMs - entry.plannedMs)).toBeLessThanOrEqual(1);
          judged++;
          const coldMs = bench.pulses.reduce(
            (sum, onUs) => sum + lampByDefinition(lamp).doseMs(onUs / 1000),
            0,
          );
          worstColdMs = Math.max(worstColdMs, Math.abs(coldMs - plannedMs));
        },
      ),
      { seed, numRuns: 60 },
    );
    expect(judged).toBeGreaterThan(30);
    // Reckoned from cold, as it once was, these would have been wrong by as much.
    expect(worstColdMs).toBeGreaterThan(20);
  });

  it('gives each patch of a strip covered step by step its light, however quickly the foot goes on', () => {
    const lamp = { lagMs: 20, riseMs: 125 };
    const bench = atTheLamp(lamp);
    bench.ask({
      type: 'strip-set',
      id: 0,
      firstMs: 2000,
      stepStops120: 30,
      stepMs: 0,
      patches: 7,
      cover: 'cumulative',
      filter: '',
    });
    bench.tap();
    giveAll(bench, [], [0.02]);
    const edges = bench.board.lampEdges;
    expect(edges).toHaveLength(14);
    for (let patch = 1; patch <= 7; patch++) {
      // Quarters of a stop from 2 s: 2 x 2^(n/4), by definition of the stop; the patch is open until it is covered.
      const toUs = patch === 7 ? edges.at(-1)!.atUs + 5_000_000 : edges[2 * patch]!.atUs;
      const soFarMs = integratedLightMs(lampByDefinition(lamp), edges, toUs);
      expect(Math.abs(soFarMs / (2000 * 2 ** ((patch - 1) / 4)) - 1)).toBeLessThan(0.005);
    }
  });

  it('comes on for paper soon after it was on for focusing, and gives no more for that', () => {
    const lamp = { lagMs: -200, riseMs: 100 };
    const bench = atTheLamp(lamp);
    bench.ask({
      type: 'strip-set',
      id: 0,
      firstMs: 2000,
      stepStops120: 60,
      stepMs: 0,
      patches: 2,
      cover: 'separate',
      filter: '',
    });
    bench.hold();
    bench.seconds(3);
    bench.tap();
    bench.tap();
    bench.tap();
    bench.seconds(6);
    const { fallMs, doseMs } = lampByDefinition(lamp);
    const [focusMs, paperMs] = bench.pulses.map((us) => us / 1000);
    const toUs = bench.board.nowUs;
    const allMs = integratedLightMs(lampByDefinition(lamp), bench.board.lampEdges, toUs);
    expect(fallMs).toBe(300);
    // What the light for focusing gives of itself, glow and all, is not the paper's.
    expect(Math.abs(allMs - doseMs(focusMs!) - 2000)).toBeLessThan(1);
    expect(paperMs! - 1800).toBeGreaterThan(20);
  });

  it.each([
    { what: 'goes on with a dodge that was paused', waitS: 4, pauseS: 1 },
    { what: 'begins the dodge', waitS: 0, pauseS: undefined },
  ])('ends a dodge by its own light when it $what', ({ waitS, pauseS }) => {
    const lamp = { lagMs: -100, riseMs: 150 };
    const bench = atTheLamp(lamp);
    bench.ask({ type: 'set-setting', id: 0, name: 'pause-for-dodges', value: 0 });
    bench.ask({ type: 'watch', id: 0, on: true });
    bench.print({
      ...{ name: 'quay', baseMs: 8000 },
      passes: [
        { kind: 'base', label: 'soft', filter: '', stops120: 0 },
        { kind: 'base', label: 'hard', filter: '', stops120: 0, dodges: [{ label: 'dog', stops120: -60 }] },
      ],
    });
    bench.tap();
    bench.tap();
    bench.seconds(8.25 + waitS);
    const before = bench.board.lampEdges.length;
    bench.tap();
    if (pauseS !== undefined) {
      bench.seconds(pauseS);
      bench.tap();
      bench.tap();
    }
    bench.seconds(9);
    bench.ask({ type: 'ping', id: 0 });
    const second = bench.notices.find(
      (line) => line.type === 'moved' && line.state === 'exposing' && line.pass === 2 && line.piece === 2,
    ) as { uptimeMs: number };
    const light = (toUs: number) => integratedLightMs(lampByDefinition(lamp), bench.board.lampEdges, toUs);
    const heldBackMs = light(second.uptimeMs * 1000) - light(bench.board.lampEdges[before]!.atUs);
    // 8 s x (1 - 2^-(1/2)), by definition of a dodge; a notice has whole milliseconds.
    expect(Math.abs(heldBackMs - 2343)).toBeLessThan(3);
    expect(Math.abs(light(bench.board.nowUs) - 16_000)).toBeLessThan(1);
  });
});

import { describe, expect, it } from 'vitest';
import {
  LampTrace,
  lampFromLagAndRise,
  pulsesOnUs,
  type RelayEdge,
} from '../../../host/darkroom/light/lamp.js';
import { shapesOf } from '../../../host/darkroom/picture/preview.js';
import {
  type ExposedSheet,
  sheetAsGiven,
  sheetAsPlanned,
  stripExposuresMs,
} from '../../../host/darkroom/sheet/exposed-sheet.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { type Lamp, loadPlanner } from '../../../host/recipe/planner/index.js';
import { shapeSchema } from '../../../host/recipe/shape.js';
import { EveningBench } from '../../firmware/core/evening/evening-bench.js';
import { strip as halfStops } from '../board/link/laptop.js';
import { demoFile } from '../recipe/demo-recipe.js';

const planner = loadPlanner();
const face = shapeSchema.parse({ kind: 'edge', side: 'left', depthPercent: 30 });
const sky = shapeSchema.parse({ kind: 'edge', side: 'top', depthPercent: 50 });

/** Base 12.5 s with a dodge of 1/3, a burn of 3/4. */
function demo() {
  const recipe = readRecipe(JSON.stringify(demoFile()));
  const [base, burn] = recipe.passes;
  return {
    ...recipe,
    passes: [
      { ...base!, dodges: [{ ...base!.dodges[0]!, shape: face }] },
      { ...burn!, shape: sky },
    ],
  };
}

/** An evening up to the first exposure, the board told this lamp; edges before it are the focus light's. */
function begin(lamp: Lamp, choose: (bench: EveningBench) => void): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lamp-lag-ms', value: lamp.lagMs });
  bench.ask({ type: 'set-setting', id: 0, name: 'lamp-rise-ms', value: lamp.riseMs });
  choose(bench);
  bench.focusAndStopDown();
  return bench;
}

function exposingEdges(bench: EveningBench): readonly RelayEdge[] {
  return bench.board.lampEdges.slice(2);
}

function traceOf(edges: readonly RelayEdge[], lamp: Lamp): LampTrace {
  return new LampTrace(lampFromLagAndRise(lamp.lagMs, lamp.riseMs), edges);
}

const lamps: Lamp[] = [
  { lagMs: 0, riseMs: 0 },
  { lagMs: 120, riseMs: 90 },
  { lagMs: 60, riseMs: 200 },
  { lagMs: 400, riseMs: 250 },
];

describe('what the board’s own relay edges give', () => {
  it.each(lamps)(
    'is every light of the print within half a per cent, pauses included: lag $lagMs, rise $riseMs ms',
    (lamp) => {
      const recipe = demo();
      const plan = planner.planRecipe(recipe, { lamp });
      const bench = begin(lamp, (each) => each.print(readRecipe(JSON.stringify(demoFile()))));
      bench.tap();
      bench.answer();
      bench.tap();
      // Into the dodge, a pause, on; then pass by pass to the end, with another pause in the burn.
      for (const seconds of [1.2, 2, 30, 3, 2, 30, 30]) {
        bench.seconds(seconds);
        bench.answer();
        bench.tap();
      }
      bench.seconds(30);
      const edges = exposingEdges(bench);
      const trace = traceOf(edges, lamp);
      const pulses = pulsesOnUs(edges);
      expect(pulses.length).toBeGreaterThan(3);
      const carried = planner.carryOutRecipe(recipe, pulses, { lamp });
      const given = sheetAsGiven(plan, shapesOf(recipe), 2, { carried, edges, trace });
      expect(worstShare(given, sheetAsPlanned(plan, shapesOf(recipe), 2))).toBeLessThan(0.005);
    },
  );

  it.each(lamps)('is every patch of a strip within half a per cent: lag $lagMs, rise $riseMs ms', (lamp) => {
    const request = { firstMs: 5000, step: { stops120: 60 }, patches: 5, cover: 'cumulative', lamp } as const;
    const bench = begin(lamp, () => {});
    bench.ask({ type: 'strip-set', id: 0, ...halfStops });
    bench.tap();
    for (let patch = 0; patch < 5; patch++) {
      bench.tap();
      bench.seconds(20);
    }
    const edges = exposingEdges(bench);
    const carried = planner.carryOutStrip(request, pulsesOnUs(edges));
    const strip = planner.planStrip(request);
    const givenMs = stripExposuresMs(strip, { carried, edges, trace: traceOf(edges, lamp) });
    strip.exposures.forEach(({ doseMs }, exposure) => {
      expect(Math.abs(givenMs[exposure]! / doseMs - 1)).toBeLessThan(0.005);
    });
  });

  it('is not what was asked for when the board is not told of its lamp', () => {
    const bench = begin({ lagMs: 0, riseMs: 0 }, () => {});
    bench.ask({ type: 'strip-set', id: 0, ...halfStops });
    bench.tap();
    bench.tap();
    bench.seconds(20);
    const edges = exposingEdges(bench);
    expect(traceOf(edges, { lagMs: 120, riseMs: 90 }).lightMs(0, Number.POSITIVE_INFINITY)).toBeCloseTo(
      4880,
      0,
    );
  });
});

/** Lights are the same, in the same order and under the same tools, and this far apart at most. */
function worstShare(given: ExposedSheet, planned: ExposedSheet): number {
  expect(given.lights.map(({ tool, filter }) => [tool, filter])).toEqual(
    planned.lights.map(({ tool, filter }) => [tool, filter]),
  );
  return Math.max(
    ...given.lights.map(({ luxSeconds }, index) =>
      Math.abs(luxSeconds / planned.lights[index]!.luxSeconds - 1),
    ),
  );
}

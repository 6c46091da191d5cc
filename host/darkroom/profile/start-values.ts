import { ASSUMED_BLACK } from '../reading/assumed-black.js';
import { errorBudgets } from '../reading/error-budget.js';
import { fitPaper, type PaperFit } from '../reading/paper-fit.js';
import { withoutFlare } from '../reading/stray-light.js';
import { readingBy } from '../reading/strip-figures.js';
import type { KeptStripReading } from './kept-reading.js';
import type { NumberedStrip } from './strips.js';

/** How round the corners of a curve are and how long its toe or shoulder, as in `CurveForm`. */
export type Form = Readonly<Record<'corners' | 'skew', number>>;
/** The project's own curves, of filters that spread layers. */
export const usualForm: Form = { corners: -0.3, skew: 0 };

export interface StartValues {
  readonly form: Form;
  readonly ranges: ReadonlyMap<string, number>;
  readonly speeds: ReadonlyMap<string, number>;
  readonly lights: ReadonlyMap<string, number>;
}

/** From each strip by itself, so that the steps begin near enough. */
export function startValues(strips: readonly NumberedStrip[]): StartValues {
  const light = referenceLight(strips);
  const fits = strips.map(({ reading }) => ({ reading, ...fitAlone(reading) }));
  const ranges = new Map<string, number>();
  const speeds = new Map<string, number>();
  const lights = new Map<string, number>(light === undefined ? [] : [[light, 0]]);
  for (const { reading, rangeR } of fits)
    ranges.set(reading.filter, Math.log(Math.min(200, Math.max(45, rangeR))));
  const place = (isForced: boolean) => {
    for (const { reading, logSpeedExposure } of fits) {
      const { filter, lux } = reading;
      const own = lux === undefined ? lights.get(reading.light) : Math.log10(lux / 1000);
      const speed = speeds.get(filter);
      if (own !== undefined && speed === undefined) speeds.set(filter, logSpeedExposure + own);
      else if (own === undefined && speed !== undefined) lights.set(reading.light, speed - logSpeedExposure);
      else if (own === undefined && isForced) lights.set(reading.light, 0);
    }
  };
  for (const _ of fits) place(false);
  for (const _ of fits) place(true);
  return { form: usualForm, ranges, speeds, lights };
}

/** A strip by itself; worked out once, since the strips are fitted together again and again. */
function fitAlone(reading: KeptStripReading): PaperFit {
  const known = fitsAlone.get(reading);
  if (known !== undefined) return known;
  const budget = errorBudgets[reading.device];
  const reads = readingBy(budget);
  const patches = reading.patches.map(({ doseMs, density, noise }) =>
    reads({ stops: Math.log2(doseMs), density: withoutFlare(density, budget.flareShare), noise }),
  );
  const fit = fitPaper(patches, ASSUMED_BLACK);
  fitsAlone.set(reading, fit);
  return fit;
}
const fitsAlone = new WeakMap<KeptStripReading, PaperFit>();

/** Where no light was measured, the one that most strips had stands for all. */
export function referenceLight(strips: readonly NumberedStrip[]): string | undefined {
  if (strips.some(({ reading }) => reading.lux !== undefined)) return undefined;
  const counts = new Map<string, number>();
  for (const { reading } of strips) counts.set(reading.light, (counts.get(reading.light) ?? 0) + 1);
  return [...counts].reduce((best, each) => (each[1] > best[1] ? each : best), ['', 0] as const)[0];
}

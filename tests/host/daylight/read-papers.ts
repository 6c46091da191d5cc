import { Paper } from '../../../host/darkroom/paper/paper.js';
import type { KeptStripReading } from '../../../host/darkroom/profile/kept-reading.js';

/** Two invented papers; the second is quicker by a stop, and harder through the same filter. */
export const papers = {
  Pearl: new Paper({
    name: 'Pearl',
    baseDensity: 0.05,
    maximumDensity: 2.1,
    filters: { '2': { speedP: 160, rangeR: 112 }, '4': { speedP: 90, rangeR: 78 } },
  }),
  Matt: new Paper({
    name: 'Matt',
    baseDensity: 0.05,
    maximumDensity: 2,
    filters: { '2': { speedP: 320, rangeR: 92 }, '1': { speedP: 330, rangeR: 110 } },
  }),
};

/** A strip of one of them as it is kept, its tones exact: what a profile makes of scans is another test's matter. */
export function keptStrip(paper: Paper, filter: string, lux?: number): KeptStripReading {
  const { baseDensity, filters } = paper.figures;
  const light = lux ?? 2;
  const middleMs = (1000 * (1000 / filters[filter]!.speedP)) / light;
  const dosesMs = [-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7].map((at) =>
    Math.round(middleMs * 2 ** (at / 2)),
  );
  return {
    kind: 'strip',
    filter,
    device: 'flatbed',
    light: 'one evening',
    ...(lux !== undefined && { lux }),
    scan: 'strip.png',
    patches: dosesMs.map((doseMs) => ({
      doseMs,
      density: paper.densityAt(filter, Math.log10((doseMs * light) / 1000)) - baseDensity,
      noise: 0.002,
    })),
  };
}

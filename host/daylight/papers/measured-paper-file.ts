import type { z } from 'zod';
import type { paperFileSchema } from '../../darkroom/paper/paper-file.js';
import type { Interval } from '../../darkroom/reading/strip-figures.js';
import type { MeasuredPaper } from './measured-paper.js';

type PaperFile = z.input<typeof paperFileSchema>;

/**
 * The paper file of what was measured: its filters alone, with the intervals of the profile. Where no light was measured a filter's
 * speed is right beside the others' alone, and has no interval.
 */
export function measuredPaperFile({ paper, developer, profile, figures }: MeasuredPaper): PaperFile {
  const { dryDownStops } = profile;
  return {
    name: paper,
    ...(developer !== '' && { developer }),
    baseDensity: figures.baseDensity,
    maximumDensity: round(figures.maximumDensity, 2),
    ...(dryDownStops !== undefined && { dryDownStops: round(dryDownStops.value, 3) }),
    filters: profile.filters.map(({ filter, rangeR, speedP }) => {
      const { speedP: speed, rangeR: range } = figures.filters[filter]!;
      return {
        filter,
        speedP: round(speed, 1),
        rangeR: round(range, 1),
        ...(speedP !== undefined && { speedP95: bounds(speedP) }),
        ...(rangeR !== undefined && { rangeR95: bounds(rangeR) }),
      };
    }),
  };
}

function bounds({ low, high }: Interval): [number, number] {
  return [round(low, 1), round(high, 1)];
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

import type { z } from 'zod';
import type { paperFileSchema } from '../../darkroom/paper/paper-file.js';
import type { Interval } from '../../darkroom/reading/strip-figures.js';
import type { MeasuredPaper } from './measured-paper.js';

type PaperFile = z.input<typeof paperFileSchema>;

/** The paper file of what was measured: its filters alone, with their intervals, the measured ones' speeds among each other right. */
export function measuredPaperFile({ paper, developer, profile, figures }: MeasuredPaper): PaperFile {
  const { dryDownStops } = profile;
  return {
    name: paper,
    ...(developer !== '' && { developer }),
    baseDensity: figures.baseDensity,
    maximumDensity: round(figures.maximumDensity, 2),
    ...(dryDownStops !== undefined && { dryDownStops: round(dryDownStops.value, 3) }),
    filters: profile.filters.map(({ filter, rangeR, factor }) => {
      const { speedP, rangeR: range } = figures.filters[filter]!;
      return {
        filter,
        speedP: round(speedP, 1),
        rangeR: round(range, 1),
        ...(factor !== undefined && { speedP95: bounds(factor, (each) => (speedP * factor.value) / each) }),
        ...(rangeR !== undefined && { rangeR95: bounds(rangeR, (each) => each) }),
      };
    }),
  };
}

function bounds({ low, high }: Interval, to: (value: number) => number): [number, number] {
  const [one, other] = [round(to(low), 1), round(to(high), 1)];
  return [Math.min(one, other), Math.max(one, other)];
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

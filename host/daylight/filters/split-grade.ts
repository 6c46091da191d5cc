import { limits } from '../../../shared-protocol/limits.js';
import { InputError } from '../../errors.js';
import type { Planner } from '../../recipe/planner/index.js';
import { filterText } from './filter-table.js';

/** What two strips told: the soft one for the highlights, the hard one (over the soft exposure) for the shadows. */
export interface SplitStrips {
  readonly soft: SplitStrip;
  readonly hard: SplitStrip;
}

export interface SplitStrip {
  readonly filter: string;
  readonly doseMs: number;
  /** ISO range R of the paper through the filter, where it is known. */
  readonly rangeR?: number | undefined;
}

export interface SplitPass {
  readonly kind: 'base';
  readonly label: string;
  readonly filter: string;
  readonly stops120: number;
}

export interface SplitGrade {
  /** The soft exposure is the base, so that turning the base turns both. */
  readonly baseMs: number;
  readonly passes: readonly [SplitPass, SplitPass];
  /** What the hard pass comes to: what the strip said, to 1 ms. */
  readonly hardMs: number;
}

/** Strips, or a recipe, that do not make a split-grade print; `field` says which. */
export class SplitError extends InputError {
  override readonly name = 'SplitError';
  constructor(
    readonly field: 'soft' | 'hard' | 'recipe',
    message: string,
  ) {
    super(message);
  }
}

/**
 * Two base passes from two strips. The exposures add on the sheet, in either order, and give a contrast between
 * those of the two filters; which one is a matter of the paper, so none is promised.
 * Source: Lambrecht and Woodhouse, 'Basic split-grade printing' (abstract); a printer's article on split-grade.
 * @throws SplitError for one filter twice, a soft one that is the harder of the two, or times more than ten stops apart.
 */
export function splitGrade(planner: Planner, { soft, hard }: SplitStrips): SplitGrade {
  if (soft.filter === hard.filter)
    throw new SplitError(
      'hard',
      `both strips were made with ${filterText(soft.filter)}; a split needs a soft and a hard one`,
    );
  if (soft.rangeR !== undefined && hard.rangeR !== undefined && soft.rangeR < hard.rangeR)
    throw new SplitError(
      'soft',
      `the soft strip was made with ${filterText(soft.filter)}, which prints harder (R${soft.rangeR}) than ${filterText(hard.filter)} (R${hard.rangeR}): were they swapped?`,
    );
  checkDose('soft', soft.doseMs);
  checkDose('hard', hard.doseMs);
  const stops120 = planner.offset120('base', soft.doseMs, hard.doseMs);
  const hardMs = stops120 === undefined ? undefined : planner.timeAtStopsMs(soft.doseMs, stops120);
  if (stops120 === undefined || hardMs === undefined)
    throw new SplitError('hard', 'the two times are more than ten stops apart; read the strips again');
  return {
    baseMs: soft.doseMs,
    passes: [
      { kind: 'base', label: 'soft', filter: soft.filter, stops120: 0 },
      { kind: 'base', label: 'hard', filter: hard.filter, stops120 },
    ],
    hardMs,
  };
}

function checkDose(field: 'soft' | 'hard', doseMs: number): void {
  if (Number.isInteger(doseMs) && doseMs >= 1 && doseMs <= limits.longestDoseMs) return;
  throw new SplitError(
    field,
    `the ${field} strip's time is ${doseMs} ms; it must be from 1 ms to ${limits.longestDoseMs} ms`,
  );
}

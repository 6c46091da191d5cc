import type { MessageOf } from '../../../../shared-protocol/index.js';
import { loadPlanner, type StripPlan } from '../../../recipe/planner/index.js';

/** A strip as it is being exposed. */
export interface StripOnEasel {
  readonly kind: 'strip';
  readonly plan: StripPlan;
  readonly cover: 'cumulative' | 'separate';
}

/** What is made of the sheet: the print on the desk, a strip, one light for all of it; or a test, which has no negative. */
export type PaperKind = StripOnEasel | { readonly kind: 'print' } | { readonly kind: 'whole' | 'test' };

/** As the board's log says when a sheet is begun. @param printName of the print that was sent to it. */
export function paperKindOf(begun: MessageOf<'sheet'>, printName: string): PaperKind {
  switch (begun.job) {
    case 'strip':
      return stripOf(begun);
    case 'recipe':
      return { kind: begun.recipe === printName ? 'print' : 'whole' };
    case 'plain':
      return { kind: 'whole' };
    default:
      return { kind: 'test' };
  }
}

function stripOf({ baseMs, stepStops120, stepMs, patches, cover }: MessageOf<'sheet'>): StripOnEasel {
  const step = stepMs === 0 ? { stops120: stepStops120 } : { equalMs: stepMs };
  return { kind: 'strip', plan: loadPlanner().planStrip({ firstMs: baseMs, step, patches, cover }), cover };
}

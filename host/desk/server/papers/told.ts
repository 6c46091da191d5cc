import type { PaperFigures } from '../../../darkroom/paper/paper.js';
import type { FilterTable } from '../../../daylight/filters/filter-table.js';

/** A measured paper as the page works with it: the functions of its table are told as their words. */
export interface PaperTold {
  readonly name: string;
  readonly figures: PaperFigures;
  readonly table: Pick<FilterTable, 'name' | 'toneHeld' | 'filters'>;
  readonly rangeSources: Readonly<Record<string, string>>;
  /** By the filter before, then by the one after. */
  readonly factorSources: Readonly<Record<string, Readonly<Record<string, string>>>>;
  /** What is measured of the paper, and of each filter. */
  readonly words: string;
  readonly filterWords: Readonly<Record<string, string>>;
}

export interface PaperListed {
  readonly paper: string;
  readonly developer: string;
  readonly name: string;
  /** Rises with each strip that is read. */
  readonly versions: number;
}

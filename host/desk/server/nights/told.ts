/** What the page is told of nights and sheets: the server answers with these, and the page shows them. */
import type { PrintChange } from '../../../records/again/print-changes.js';
import type {
  NightCount,
  PrintedRecipe,
  Run,
  SheetPlace,
  SheetRemark,
} from '../../../records/archive/archive.js';

/** The log's evenings, and the negatives that were printed. */
export interface NightsTold {
  /** Where the archive lies. */
  readonly file: string;
  readonly nights: readonly NightCount[];
  readonly negatives: readonly NegativeTold[];
  /** What the printer calls boards, by their ids. */
  readonly boardNames: Readonly<Record<string, string>>;
}

/** A recipe that sheets were printed by, under what the printer calls its negative. */
export interface NegativeTold extends PrintedRecipe {
  readonly title: string;
  /** Empty where no recipe that was kept says so. */
  readonly negative: string;
}

/** One night, or one run without a date. */
export type NightKey = { readonly night: string } | { readonly run: Run };

export interface NightTold {
  readonly key: NightKey;
  /** What it came to. */
  readonly totals: string;
  readonly sheets: readonly SheetTold[];
  /** Baths and tests, with their times. */
  readonly events: readonly { readonly at: string | null; readonly words: string }[];
}

export interface SheetTold {
  readonly place: SheetPlace;
  readonly key: NightKey;
  /** As the commands take it: '2027-03-05/7'. */
  readonly name: string;
  readonly sheet: number;
  readonly at: string | null;
  /** What it was, in words. */
  readonly what: string;
  readonly recipe: string;
  readonly version: number;
  readonly title: string;
  readonly negative: string;
  readonly isPrint: boolean;
  readonly isStrip: boolean;
  readonly lights: readonly LightTold[];
  /** Why it is no whole print, where it is none. */
  readonly lacking: string;
  readonly remarks: readonly SheetRemark[];
  /** As it was given against the recipe that it was printed by. */
  readonly differences: readonly string[];
  readonly unknown: readonly string[];
  /** Light that a power cut ended: of what, and how much it can have been. */
  readonly cut?: { readonly what: string; readonly plannedMs: number };
  /** The recipe of what it got, as a recipe file has it; empty where none can be made. */
  readonly given: string;
  /** Against the print before it by the same recipe; not there for the first one. */
  readonly since?: { readonly name: string; readonly changes: readonly PrintChange[] };
}

export interface LightTold {
  readonly what: string;
  readonly filter: string;
  readonly plannedMs: number;
  readonly givenMs: number;
  readonly outcome: string;
}

/** A print to be made again. */
export interface AgainTold {
  readonly name: string;
  /** As a recipe file has it. */
  readonly recipe: string;
}

export interface ComparedTold {
  readonly first: string;
  readonly second: string;
  readonly changes: readonly PrintChange[];
}

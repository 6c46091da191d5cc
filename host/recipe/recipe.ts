import type { FilmTie } from './film-tie.js';
import type { Framing } from './framing.js';
import type { Shape } from './shape.js';

/** A recipe in the units that everything but its file is in: whole milliseconds, whole 1/120 stops. */
export interface RecipeDodge {
  readonly label: string;
  /** -1200..-1. */
  readonly stops120: number;
  /** Where the tool goes; only maps and pictures need it, and it stays on the laptop. */
  readonly shape?: Shape | undefined;
}

export interface RecipePass {
  readonly kind: 'base' | 'burn';
  readonly label: string;
  /** As the printer calls it; empty for none. */
  readonly filter: string;
  /** Of a base pass its offset from the base, -1200..1200; of a burn 1..1200. */
  readonly stops120: number;
  readonly dodges: readonly RecipeDodge[];
  /** The area of a burn, likewise. */
  readonly shape?: Shape | undefined;
}

export interface Recipe {
  /** What the board keeps it under: at most 20 small letters, digits and hyphens. */
  readonly name: string;
  readonly title: string;
  readonly negative: string;
  readonly paper: string;
  /** Counted up when the board or the laptop changes it. */
  readonly version: number;
  /** Tenths; 0 where it is not said, as for the next four. */
  readonly aperture10: number;
  readonly magnification1000: number;
  readonly columnHeightMm: number;
  readonly focalLengthMm: number;
  /** Tenths of a per cent. */
  readonly dryDown10: number;
  readonly baseMs: number;
  readonly passes: readonly RecipePass[];
  /** How the scan lies in the easel's frame; like shapes, it stays on the laptop. */
  readonly framing?: Framing | undefined;
  /** What a strip told of film and light; likewise. */
  readonly filmTie?: FilmTie | undefined;
  readonly notes: string;
  /** What was changed and why, oldest first. */
  readonly history: readonly string[];
}

import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import type { Random } from '../../setup/random.js';

/** A mid-tone, where eyes are surest: the net density at which ISO 6846 takes a paper's speed. */
const WANTED_NET_DENSITY = 0.6;
const FILTER = '2';

/** Two patches, one too light and one too dark, look alike far off where neither is this many times as far as the other. */
const ALIKE = 3;

/** What a strip told: the best time, the times between which the right one must lie, and what to do about it. */
export interface Reading {
  readonly verdict: 'found' | 'between' | 'all too dark' | 'all too light';
  readonly bestMs: number;
  readonly lowMs: number;
  readonly highMs: number;
}

/** Negatives under the enlarger, and a printer who sees nothing of them but densities on a developed strip. */
export class Printer {
  readonly #paper = new Paper(commonPaper);
  readonly #wantedLuxSeconds = this.#luxSecondsForWanted();
  readonly #random: Random;
  /** So far, in density, a reading may lie from the truth, either way. */
  readonly #misread: number;
  /** Says 'between two' as well, as a board's knob offers it; others name the patch that is nearest. */
  readonly #saysBetween: boolean;
  /** The misreading is a normal spread's sigma, and not a limit. */
  readonly #isNormal: boolean;
  /** By how much each patch of the strip read last looked darker than wanted. */
  lastSeen: readonly number[] = [];

  constructor(random: Random, misread: number, saysBetween = false, isNormal = false) {
    this.#random = random;
    this.#misread = misread;
    this.#saysBetween = saysBetween;
    this.#isNormal = isNormal;
  }

  /** By how much a patch is darker than wanted that had `times` the right light. */
  readonly curve = (times: number): number => this.#over(1, times);

  /**
   * The most that these eyes can do, whatever the strips: one look at a print of the right exposure is off by up to
   * the misreading, evenly; this share of such looks lies within `stops` on the paper's curve.
   */
  shareWithinByEyes(stops: number): number {
    if (this.#misread === 0) return 1;
    const sides = [2 ** -stops, 2 ** stops].map((times) => Math.abs(this.#over(1, times)) / this.#misread);
    return sides.reduce((sum, side) => sum + Math.min(1, side) / 2, 0);
  }

  /** Looks at a strip of these times, off a negative whose key tone comes right after `rightMs`. */
  read(rightMs: number, dosesMs: readonly number[]): Reading {
    const over = dosesMs.map((doseMs) => this.#seen(rightMs, doseMs));
    this.lastSeen = over;
    const nearest = over.reduce((best, each, at) => (Math.abs(each) < Math.abs(over[best]!) ? at : best), 0);
    const [bestMs, last] = [dosesMs[nearest]!, dosesMs.length - 1];
    if (nearest === 0 && over[0]! > stepBeyond(over[0]!, over[1]!, over[2]!) / 2)
      return { verdict: 'all too dark', bestMs, lowMs: 0, highMs: bestMs };
    if (nearest === last && -over[last]! > stepBeyond(over[last]!, over[last - 1]!, over[last - 2]!) / 2)
      return { verdict: 'all too light', bestMs, lowMs: bestMs, highMs: Number.POSITIVE_INFINITY };
    const other = nearest - Math.sign(over[nearest]!);
    if (this.#saysBetween && lookAlike(over[nearest]!, over[other])) return between(bestMs, dosesMs[other]!);
    const below = dosesMs[nearest - 1] ?? bestMs ** 2 / dosesMs[1]!;
    const above = dosesMs[nearest + 1] ?? bestMs ** 2 / dosesMs[last - 1]!;
    return { verdict: 'found', bestMs, lowMs: Math.sqrt(below * bestMs), highMs: Math.sqrt(above * bestMs) };
  }

  /** By how much a patch looks darker than wanted. */
  #seen(rightMs: number, doseMs: number): number {
    return (
      this.#over(rightMs, doseMs) +
      (this.#isNormal ? this.#normal() : this.#random.share() * 2 - 1) * this.#misread
    );
  }

  /** By Box and Muller. */
  #normal(): number {
    const radius = Math.sqrt(-2 * Math.log(1 - this.#random.share()));
    return radius * Math.cos(2 * Math.PI * this.#random.share());
  }

  /** By how much it is. */
  #over(rightMs: number, doseMs: number): number {
    const density = this.#paper.densityOf([[FILTER, (this.#wantedLuxSeconds * doseMs) / rightMs]]);
    return density - this.#paper.figures.baseDensity - WANTED_NET_DENSITY;
  }

  #luxSecondsForWanted(): number {
    const wanted = this.#paper.figures.baseDensity + WANTED_NET_DENSITY;
    let [low, high] = [-3, 4];
    for (let round = 0; round < 50; round++) {
      const middle = (low + high) / 2;
      if (this.#paper.densityAt(FILTER, middle) < wanted) low = middle;
      else high = middle;
    }
    return 10 ** low;
  }
}

function lookAlike(nearest: number, other: number | undefined): boolean {
  return other !== undefined && nearest * other < 0 && Math.abs(other) < ALIKE * Math.abs(nearest);
}

/** Half-way in stops; each patch would have been named on its own side of a quarter of the way. */
function between(oneMs: number, otherMs: number): Reading {
  const bestMs = Math.round(Math.sqrt(oneMs * otherMs));
  const [low, high] = [Math.min(oneMs, otherMs), Math.max(oneMs, otherMs)];
  return { verdict: 'between', bestMs, lowMs: Math.sqrt(low * bestMs), highMs: Math.sqrt(high * bestMs) };
}

/** How far the next patch would be away, if there were one: eyes carry a row of greys on as it goes. */
function stepBeyond(outermost: number, next: number, third: number): number {
  return Math.max(0, 2 * Math.abs(outermost - next) - Math.abs(next - third));
}

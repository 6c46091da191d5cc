import type { Candidate } from './coarse-search.js';
import { onNegative, type Placement } from './placement.js';
import { type Slopes, slopesOf, steepnessOf } from './slopes.js';
import { made, madeSmall, type Tones } from './tones.js';

export interface FineSize {
  /** The strip's longer side. */
  readonly pixels: number;
  /** Places of the strip that are held against the negative, at most. */
  readonly points: number;
  readonly finestPixels: number;
}

/** Makes placements better at one size of strip and negative. */
export class FineSearch {
  readonly #strip: Slopes;
  readonly #points: readonly number[];
  /** The negative's, for each scale. */
  readonly #slopes = new Map<number, Slopes>();

  constructor(
    strip: Tones,
    private readonly negative: Tones,
    private readonly size: FineSize,
  ) {
    this.#strip = slopesOf(madeSmall(strip, size.pixels), true);
    this.#points = surePoints(this.#strip, size.points);
  }

  refined({ placement }: Candidate): Candidate {
    const slopes = this.#slopesAt(placement.scale);
    return new SizedSlopes(this.#strip, this.#points, slopes, this.size.finestPixels).best(placement);
  }

  #slopesAt(scale: number): Slopes {
    const kept = this.#slopes.get(scale);
    if (kept !== undefined) return kept;
    const { width, height } = this.negative;
    const times = Math.min(1, this.size.pixels / scale / Math.max(width, height));
    const side = (whole: number) => Math.max(4, Math.round(whole * times));
    const slopes = slopesOf(made(this.negative, side(width), side(height)));
    this.#slopes.set(scale, slopes);
    return slopes;
  }
}

/** Steeper than this is held against the negative; flat places say nothing. */
const SURE = 0.3;

class SizedSlopes {
  readonly #strip: Slopes;
  readonly #points: readonly number[];
  readonly #negative: Slopes;
  readonly #finestPixels: number;

  constructor(strip: Slopes, points: readonly number[], negative: Slopes, finestPixels: number) {
    this.#strip = strip;
    this.#points = points;
    this.#negative = negative;
    this.#finestPixels = finestPixels;
  }

  best(start: Placement): Candidate {
    const pixel = 1 / Math.max(this.#negative.width, this.#negative.height);
    const pixelsToEnd = Math.max(this.#strip.width, this.#strip.height) / 2;
    let steps = { turn: 1.5 / pixelsToEnd, scale: 1.5 / pixelsToEnd, shift: 1.5 * pixel };
    let best = { placement: start, likeness: this.likeness(start) };
    for (let round = 0; round < ROUNDS; round++) {
      const next = this.#better(best, steps);
      if (next === best) steps = { turn: steps.turn / 2, scale: steps.scale / 2, shift: steps.shift / 2 };
      else best = next;
      if (steps.shift < this.#finestPixels * pixel) break;
    }
    return best;
  }

  #better(best: Candidate, steps: { turn: number; scale: number; shift: number }): Candidate {
    let found = best;
    const tryOne = (change: (placement: Placement) => Placement) => {
      const placement = change(found.placement);
      const likeness = this.likeness(placement);
      if (likeness > found.likeness) found = { placement, likeness };
    };
    for (const sign of [-1, 1]) {
      tryOne((each) => ({ ...each, shiftX: each.shiftX + sign * steps.shift }));
      tryOne((each) => ({ ...each, shiftY: each.shiftY + sign * steps.shift }));
      tryOne((each) => ({ ...each, scale: each.scale * (1 + sign * steps.scale) }));
      tryOne((each) => ({ ...each, turnRadians: each.turnRadians + sign * steps.turn }));
    }
    return found;
  }

  /** Of what is steep on the strip, and lies on the negative or not. */
  likeness(placement: Placement): number {
    const [strip, negative] = [this.#strip, this.#negative];
    const place = onNegative(placement, strip, negative);
    const [cosine, sine] = [Math.cos(placement.turnRadians), Math.sin(placement.turnRadians)];
    const sign = placement.mirrored ? -1 : 1;
    let [sum, weight, others] = [0, 0, 0];
    for (const at of this.#points) {
      const [right, down] = [sign * strip.across[at]!, strip.down[at]!];
      weight += right * right + down * down;
      const [x, y] = place(at % strip.width, Math.floor(at / strip.width));
      if (!(x >= 0 && y >= 0 && x < negative.width - 1 && y < negative.height - 1)) continue;
      const [turnedX, turnedY] = [right * cosine - down * sine, right * sine + down * cosine];
      const [left, top] = [Math.floor(x), Math.floor(y)];
      const corner = top * negative.width + left;
      const slopeX = between(negative.across, negative.width, corner, x - left, y - top);
      const slopeY = between(negative.down, negative.width, corner, x - left, y - top);
      sum += turnedX * slopeX + turnedY * slopeY;
      others += slopeX * slopeX + slopeY * slopeY;
    }
    return sum / Math.sqrt(weight * Math.max(others, LEAST_TEXTURE * weight));
  }
}
/** A place of the negative without a picture is like everything. */
const LEAST_TEXTURE = 0.3;
const ROUNDS = 60;

function surePoints({ width, height, across, down }: Slopes, most: number): number[] {
  const inset = Math.ceil(Math.max(width, height) * 0.02);
  const points: number[] = [];
  for (let y = inset; y < height - inset; y++)
    for (let x = inset; x < width - inset; x++) {
      const at = y * width + x;
      if (steepnessOf(across[at]!, down[at]!) > SURE) points.push(at);
    }
  const stride = Math.ceil(points.length / most);
  return points.filter((_, at) => at % stride === 0);
}

/** Between a place and its neighbours to the right, below and both. */
function between(values: Float32Array, width: number, at: number, shareX: number, shareY: number): number {
  const upper = values[at]! + (values[at + 1]! - values[at]!) * shareX;
  const lower = values[at + width]! + (values[at + width + 1]! - values[at + width]!) * shareX;
  return upper + (lower - upper) * shareY;
}

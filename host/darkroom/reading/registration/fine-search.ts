import type { Candidate } from './coarse-search.js';
import { onNegative, type Placement } from './placement.js';
import { type Slopes, slopesOf } from './slopes.js';
import { made, madeSmall, type Tones } from './tones.js';

/** A placement made better at one size of strip and negative. */
export function refined(strip: Tones, negative: Tones, stripPixels: number, from: Candidate): Candidate {
  const sizes = new SizedSlopes(strip, negative, stripPixels, from.placement.scale);
  return sizes.best(from.placement);
}

/** Steeper than this is held against the negative; flat places say nothing. */
const SURE = 0.3;
const MOST_POINTS = 4000;

class SizedSlopes {
  readonly #strip: Slopes;
  readonly #negative: Slopes;
  readonly #points: readonly number[];

  constructor(strip: Tones, negative: Tones, stripPixels: number, scale: number) {
    this.#strip = slopesOf(madeSmall(strip, stripPixels), true);
    const times = Math.min(1, stripPixels / scale / Math.max(negative.width, negative.height));
    const side = (pixels: number) => Math.max(4, Math.round(pixels * times));
    this.#negative = slopesOf(made(negative, side(negative.width), side(negative.height)));
    this.#points = surePoints(this.#strip);
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
      if (steps.shift < FINEST_PIXELS * pixel) break;
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
      const slopeX = between(negative.across, negative.width, x, y);
      const slopeY = between(negative.down, negative.width, x, y);
      sum += turnedX * slopeX + turnedY * slopeY;
      others += slopeX * slopeX + slopeY * slopeY;
    }
    return sum / Math.sqrt(weight * Math.max(others, LEAST_TEXTURE * weight));
  }
}
/** A place of the negative without a picture is like everything. */
const LEAST_TEXTURE = 0.3;
const ROUNDS = 60;
const FINEST_PIXELS = 0.03;

function surePoints({ width, height, across, down }: Slopes): number[] {
  const inset = Math.ceil(Math.max(width, height) * 0.02);
  const points: number[] = [];
  for (let y = inset; y < height - inset; y++)
    for (let x = inset; x < width - inset; x++) {
      const at = y * width + x;
      if (Math.hypot(across[at]!, down[at]!) > SURE) points.push(at);
    }
  const stride = Math.ceil(points.length / MOST_POINTS);
  return points.filter((_, at) => at % stride === 0);
}

function between(values: Float32Array, width: number, x: number, y: number): number {
  const left = Math.floor(x);
  const top = Math.floor(y);
  const shareX = x - left;
  const shareY = y - top;
  const at = top * width + left;
  const upper = values[at]! + (values[at + 1]! - values[at]!) * shareX;
  const lower = values[at + width]! + (values[at + width + 1]! - values[at + width]!) * shareX;
  return upper + (lower - upper) * shareY;
}

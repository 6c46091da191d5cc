import { type Cover, coverOf } from '../../../darkroom/sheet/cover.js';
import type { RehearsedPrint } from './boathouse.js';
import type { StripOnEasel } from './paper-kind.js';
import { keyOf, type Place } from './place.js';

/** The part of the sheet that hand or card keep from the light. */
export interface HeldBack {
  readonly key: string;
  /** A byte a pixel: 1 where most of the light is held back. */
  readonly pixels: Uint8Array;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Where the recipe has the hands for this piece; undefined where they have nothing to do, or it does not say. */
export function heldBackAt({ recipe, plan }: RehearsedPrint, place: Place, size: Size): HeldBack | undefined {
  const pass = recipe.passes[place.pass];
  const kind = plan.passes[place.pass]?.segments[place.piece]?.kind;
  const dodged = kind === 'dodge' ? pass?.dodges[place.piece]?.shape : undefined;
  const shape = dodged ?? pass?.shape;
  if (shape === undefined) return undefined;
  const cover = coverOf(shape, size.width / size.height);
  const isHeldBack: Cover = (x, y) => Number(cover(x, y) > 0.5 === (dodged !== undefined));
  return { key: keyOf(place), pixels: maskOf(isHeldBack, size) };
}

/** Where the card is for this patch: over those that have had their light, or over all but this one. */
export function heldBackFromStrip(
  { plan, cover }: StripOnEasel,
  place: Place,
  size: Size,
): HeldBack | undefined {
  if (cover === 'cumulative' && place.pass === 0) return undefined;
  const isHeldBack: Cover = (x) => {
    const patch = Math.floor((x * plan.patches.length) / 100);
    return Number(cover === 'cumulative' ? patch < place.pass : patch !== place.pass);
  };
  return { key: keyOf(place), pixels: maskOf(isHeldBack, size) };
}

function maskOf(cover: Cover, { width, height }: Size): Uint8Array {
  return Uint8Array.from({ length: width * height }, (_, at) =>
    cover((100 * ((at % width) + 0.5)) / width, (100 * (Math.floor(at / width) + 0.5)) / height),
  );
}

/** Places of one patch that had the same density of film, and the tone that the paper made of them. */
export interface ToneCell {
  readonly patch: number;
  /** log10 of the transmittance, by the scan. */
  readonly filmLog: number;
  /** Above paper white. */
  readonly density: number;
  readonly weight: number;
  /** One standard deviation of the density, by the spread of its pixels. */
  readonly noise: number;
}

/** A pixel of the strip of which the film is known. */
export interface TonePixel {
  readonly patch: number;
  readonly filmLog: number;
  readonly density: number;
}

/** In log10 of the transmittance: a tenth of a stop and a half. */
const CELL_LOG = 0.05;
const LEAST_PIXELS = 12;
/** Neighbouring pixels err alike, so so many count as one. */
const ALIKE_PIXELS = 6;
const LEAST_NOISE = 0.004;

/** Middle tones of pixels of like film, patch by patch: dust and misplaced pixels are not in them. */
export function toneCells(pixels: readonly TonePixel[]): ToneCell[] {
  const byCell = new Map<string, TonePixel[]>();
  for (const pixel of pixels) {
    const key = `${pixel.patch} ${Math.round(pixel.filmLog / CELL_LOG)}`;
    const cell = byCell.get(key);
    if (cell === undefined) byCell.set(key, [pixel]);
    else cell.push(pixel);
  }
  return [...byCell.values()].filter((cell) => cell.length >= LEAST_PIXELS).map(cellOf);
}

function cellOf(pixels: readonly TonePixel[]): ToneCell {
  const densities = pixels.map(({ density }) => density).sort((one, other) => one - other);
  const at = (share: number) => densities[Math.floor(share * (densities.length - 1))]!;
  const spread = (at(0.84) - at(0.16)) / 2;
  const own = pixels.length / ALIKE_PIXELS;
  return {
    patch: pixels[0]!.patch,
    filmLog: pixels.reduce((sum, { filmLog }) => sum + filmLog, 0) / pixels.length,
    density: at(0.5),
    weight: 1 / (1 + (spread / USUAL_SPREAD) ** 2) / (1 + HALF_WEIGHT / own),
    noise: Math.hypot(LEAST_NOISE, spread / Math.sqrt(own)),
  };
}
const USUAL_SPREAD = 0.05;
/** A cell of so many independent pixels counts half. */
const HALF_WEIGHT = 8;

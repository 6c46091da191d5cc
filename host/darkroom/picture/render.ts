import { type Negative, negativeBounds, srgbOfLight } from '../negative/negative.js';
import { densityAt } from '../paper/characteristic-curve.js';
import { Paper } from '../paper/paper.js';
import { coverOf } from '../sheet/cover.js';
import { type Band, checkSheet, type Sheet, type SheetLight } from '../sheet/sheet.js';

/** A grey picture, one byte a pixel, coded for a screen (sRGB). */
export interface GreyPicture {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** Steps per unit of log exposure in the tables: an error of at most 0.002 in density, under one grey level. */
const STEPS = 1024;
/** The tables span all that a sheet can see: dense film in a dark corner to bare bulb for an hour. */
const LOWEST_LOG = -10;
const HIGHEST_LOG = 6;
const TABLE_LENGTH = (HIGHEST_LOG - LOWEST_LOG) * STEPS;
/** Less light than this, in log lux seconds at the easel, is none. */
const LOWEST_EASEL_LOG = LOWEST_LOG + negativeBounds.highestDensity + 0.5;
const HIGHEST_EASEL_LOG = HIGHEST_LOG - 0.5;
/** Tools have soft rims, so their light is worked out on a grid of this many pixels and spread between. */
const WIDEST_CELL_PIXELS = 16;
const CELLS_PER_RIM = 5;
/** Paper white on the screen: below full, so that the print shows against a white page. */
const PAPER_WHITE = 0.92;
const DENSITY_STEPS = 1024;
const DENSITY_TABLE_LENGTH = 4 * DENSITY_STEPS + 1;

/**
 * The developed sheet as it looks in white light.
 * Reflectance is 10^-D; the paper's base is shown nearly white. For each pixel this adds the negative's
 * density to the light at the easel and looks the sum up in the paper's table: once where a band was lit
 * through one filter only, once for each of the paper's layers where filters were mixed.
 * @throws SheetError when bands leave a gap; PaperError for a filter that the paper has no figures for.
 */
export function render(sheet: Sheet, negative: Negative): GreyPicture {
  checkSheet(sheet);
  const { width, height } = negative;
  const pixels = new Uint8Array(width * height);
  const scaledLog = negative.logTransmittance.map((log) => log * STEPS);
  for (const band of sheet.bands) {
    const columns = {
      from: Math.round((band.fromPercent / 100) * width),
      to: Math.round((band.toPercent / 100) * width),
    };
    const layers = layersOf(sheet, band);
    const grids = layers.map(({ lights }) => new LightGrid(lights, negative, columns));
    const soleLayer = layers.length === 1 ? layers[0]! : undefined;
    if (soleLayer !== undefined)
      renderOneLayer(negative, scaledLog, columns, grids[0]!, soleLayer, sheet.paper, pixels);
    else renderLayers(negative, scaledLog, columns, grids, layers, sheet.paper, pixels);
  }
  return { width, height, pixels };
}

interface Columns {
  readonly from: number;
  readonly to: number;
}

/** One emulsion layer, or the whole paper where one filter was used: its lights, and density by log exposure. */
interface Layer {
  readonly lights: readonly SheetLight[];
  readonly densities: Float32Array;
}

function layersOf(sheet: Sheet, band: Band): Layer[] {
  const { paper, safelight } = sheet;
  const filters = new Set(
    [...band.lights, ...(safelight === undefined ? [] : [safelight])].map(({ filter }) => filter),
  );
  if (filters.size <= 1) {
    const filter = [...filters][0] ?? paper.filterNames[0]!;
    const fog = safelight?.luxSeconds ?? 0;
    return [{ lights: band.lights, densities: densityTable((log) => paper.densityAt(filter, log), fog) }];
  }
  return Array.from({ length: Paper.layerCount }, (_, layer) => {
    const sensed = (light: SheetLight) =>
      light.luxSeconds * 10 ** paper.logSensitivities(light.filter)[layer]!;
    const lights = band.lights.map((light) => ({ ...light, luxSeconds: sensed(light) }));
    const fog = safelight === undefined ? 0 : sensed(safelight);
    return { lights, densities: densityTable((log) => densityAt(paper.layerCurve, log), fog) };
  });
}

function densityTable(densityFor: (logExposure: number) => number, fogLuxSeconds: number): Float32Array {
  return Float32Array.from({ length: TABLE_LENGTH }, (_, index) => {
    const logExposure = LOWEST_LOG + (index + 0.5) / STEPS;
    return densityFor(fogLuxSeconds === 0 ? logExposure : Math.log10(10 ** logExposure + fogLuxSeconds));
  });
}

/** Screen code for a density: the base of this paper is PAPER_WHITE. */
export function greyOfDensity(density: number, baseDensity: number): number {
  return Math.round(255 * srgbOfLight(PAPER_WHITE * 10 ** (baseDensity - density)));
}

function renderOneLayer(
  { width, height, samples }: Negative,
  scaledLog: Float32Array,
  { from, to }: Columns,
  grid: LightGrid,
  { densities }: Layer,
  paper: Paper,
  pixels: Uint8Array,
): void {
  const greys = Uint8Array.from(densities, (density) => greyOfDensity(density, paper.figures.baseDensity));
  for (let row = 0; row < height; row++) {
    const light = grid.row(row);
    const start = row * width + from;
    for (let column = 0; column < to - from; column++)
      pixels[start + column] = greys[(scaledLog[samples[start + column]!]! + light[column]!) | 0]!;
  }
}

function renderLayers(
  { width, height, samples }: Negative,
  scaledLog: Float32Array,
  { from, to }: Columns,
  grids: readonly LightGrid[],
  layers: readonly Layer[],
  paper: Paper,
  pixels: Uint8Array,
): void {
  const scale = DENSITY_STEPS / layers.length;
  const greys = Uint8Array.from({ length: DENSITY_TABLE_LENGTH }, (_, step) =>
    greyOfDensity(step / DENSITY_STEPS, paper.figures.baseDensity),
  );
  const sums = new Float32Array(to - from);
  const logs = new Float32Array(to - from);
  for (let row = 0; row < height; row++) {
    const start = row * width + from;
    sums.fill(0.5);
    for (let column = 0; column < logs.length; column++) logs[column] = scaledLog[samples[start + column]!]!;
    for (let layer = 0; layer < layers.length; layer++) {
      const light = grids[layer]!.row(row);
      const { densities } = layers[layer]!;
      for (let column = 0; column < sums.length; column++)
        sums[column]! += scale * densities[(logs[column]! + light[column]!) | 0]!;
    }
    for (let column = 0; column < sums.length; column++) pixels[start + column] = greys[sums[column]! | 0]!;
  }
}

/**
 * The light at the easel, as an index into the tables before the negative is added: exact at the corners of
 * cells, linear in its logarithm between them.
 */
class LightGrid {
  readonly #cell: number;
  readonly #across: number;
  readonly #corners: Float32Array;
  readonly #row: Float32Array;

  constructor(lights: readonly SheetLight[], { width, height }: Negative, { from, to }: Columns) {
    this.#cell = cellPixels(lights, Math.min(width, height));
    this.#across = Math.ceil((to - from) / this.#cell) + 1;
    const down = Math.ceil(height / this.#cell) + 1;
    this.#corners = new Float32Array(this.#across * down);
    this.#row = new Float32Array((this.#across - 1) * this.#cell);
    const lightAt = lightSum(lights, width / height);
    for (let index = 0; index < this.#corners.length; index++) {
      const x = from + (index % this.#across) * this.#cell + 0.5;
      const y = Math.floor(index / this.#across) * this.#cell + 0.5;
      const log = Math.log10(lightAt((100 * x) / width, (100 * y) / height));
      const kept = Math.min(HIGHEST_EASEL_LOG, Math.max(LOWEST_EASEL_LOG, log));
      this.#corners[index] = (kept - LOWEST_LOG) * STEPS;
    }
  }

  /** The light for every column of pixel row `row`; the same buffer each time. */
  row(row: number): Float32Array {
    const cell = this.#cell;
    const upper = Math.floor(row / cell) * this.#across;
    const share = (row % cell) / cell;
    let left = this.#between(upper, share);
    for (let corner = 1; corner < this.#across; corner++) {
      const right = this.#between(upper + corner, share);
      const slope = (right - left) / cell;
      const start = (corner - 1) * cell;
      for (let step = 0; step < cell; step++) this.#row[start + step] = left + slope * step;
      left = right;
    }
    return this.#row;
  }

  #between(upperIndex: number, share: number): number {
    const upper = this.#corners[upperIndex]!;
    return upper + share * (this.#corners[upperIndex + this.#across]! - upper);
  }
}

function lightSum(
  lights: readonly SheetLight[],
  aspect: number,
): (xPercent: number, yPercent: number) => number {
  const parts = lights.map(({ luxSeconds, tool }) => {
    if (tool === undefined) return () => luxSeconds;
    const cover = coverOf(tool.shape, aspect);
    return tool.shades === 'inside'
      ? (x: number, y: number) => luxSeconds * (1 - cover(x, y))
      : (x: number, y: number) => luxSeconds * cover(x, y);
  });
  return (xPercent, yPercent) => parts.reduce((sum, part) => sum + part(xPercent, yPercent), 0);
}

/** Small enough that the sharpest rim spans several cells. */
function cellPixels(lights: readonly SheetLight[], shortSidePixels: number): number {
  const rims = lights.map(({ tool }) => rimPercent(tool?.shape));
  const sharpestPixels = (Math.min(...rims, 100) / 100) * shortSidePixels;
  return Math.min(WIDEST_CELL_PIXELS, Math.max(1, Math.floor(sharpestPixels / CELLS_PER_RIM)));
}

function rimPercent(shape: { softPercent: number } | { depthPercent: number } | undefined): number {
  if (shape === undefined) return 100;
  return 'softPercent' in shape ? shape.softPercent : shape.depthPercent;
}

import type { Negative } from '../negative/negative.js';
import { densityAt } from '../paper/characteristic-curve.js';
import { Paper } from '../paper/paper.js';
import { type Band, checkSheet, type Sheet } from '../sheet/sheet.js';
import { type GreyPicture, greyOfDensity } from './grey.js';
import { Kept } from './kept.js';
import { Cells, LightGrid, type Part } from './light-grid.js';
import { stepsOfLog, tableByLog } from './log-table.js';

const DENSITY_STEPS = 1024;
/** For the sum of all layers, none of which is denser than 4. */
const DENSITY_TABLE_LENGTH = Paper.layerCount * 4 * DENSITY_STEPS + 1;

/** The picture of one sheet. @throws as `PrintRenderer.render` */
export function render(sheet: Sheet, negative: Negative): GreyPicture {
  return new PrintRenderer(negative).render(sheet);
}

/**
 * Makes one picture after another of prints of one negative. What follows from paper, filters and areas alone is kept
 * from each picture to the next, which is most of the work where a single light was turned.
 */
export class PrintRenderer {
  readonly #negative: Negative;
  readonly #steps: Float32Array;
  readonly #wholeSteps: Int16Array;
  readonly #densities = new Kept<Uint16Array>();
  readonly #greys = new Kept<Uint8Array>();
  readonly #shares = new Kept<Float32Array>();
  #paper: Paper | undefined;

  constructor(negative: Negative) {
    this.#negative = negative;
    this.#steps = negative.logTransmittance.map(stepsOfLog);
    this.#wholeSteps = Int16Array.from(this.#steps, Math.round);
  }

  /**
   * The developed sheet as it looks in white light.
   * Reflectance is 10^-D; the paper's base is shown nearly white. For each pixel this adds the negative's
   * density to the light at the easel and looks the sum up in the paper's table: once where a band was lit
   * through one filter only, once for each of the paper's layers where filters were mixed.
   * @param pixels where to put it, of as many bytes as the negative has pixels.
   * @throws SheetError when bands leave a gap; PaperError for a filter that the paper has no figures for.
   */
  render(
    sheet: Sheet,
    pixels: Uint8Array = new Uint8Array(this.#negative.width * this.#negative.height),
  ): GreyPicture {
    checkSheet(sheet);
    this.#beginFrame(sheet.paper);
    const { width, height } = this.#negative;
    for (const band of sheet.bands) {
      const part = {
        width,
        height,
        fromColumn: Math.round((band.fromPercent / 100) * width),
        toColumn: Math.round((band.toPercent / 100) * width),
      };
      const filters = filtersOf(sheet, band);
      if (filters.length <= 1) this.#renderAtOnce(sheet, band, filters[0], part, pixels);
      else this.#renderLayers(sheet, band, part, pixels);
    }
    return { width, height, pixels };
  }

  #beginFrame(paper: Paper): void {
    const kept = [this.#densities, this.#greys, this.#shares];
    for (const each of kept) each.beginFrame();
    // Twice, so that nothing is left of the frame before either.
    if (paper !== this.#paper) for (const each of kept) each.beginFrame();
    this.#paper = paper;
  }

  /** Through one filter the whole paper has one curve. */
  #renderAtOnce(
    { paper, safelight }: Sheet,
    { lights }: Band,
    filter: string = paper.filterNames[0]!,
    part: Part,
    pixels: Uint8Array,
  ): void {
    const fog = safelight?.luxSeconds ?? 0;
    const greys = this.#greys.get(`${filter} ${fog}`, () =>
      Uint8Array.from(
        tableByLog((log) => paper.densityAt(filter, log), fog),
        (density) => greyOfDensity(density, paper.figures.baseDensity),
      ),
    );
    const cells = new Cells(lights, part);
    const sums = cells.lightByFilter(lights, this.#shares);
    const grid = new LightGrid(
      cells,
      [...sums.values()].map((luxSeconds) => ({ luxSeconds, sensitivity: 1 })),
    );
    fillRows(this.#negative, this.#steps, grid, part, greys, pixels);
  }

  #renderLayers({ paper, safelight }: Sheet, { lights }: Band, part: Part, pixels: Uint8Array): void {
    const cells = new Cells(lights, part);
    const sums = [...cells.lightByFilter(lights, this.#shares)];
    const sensitivity = (filter: string, layer: number) => 10 ** paper.logSensitivities(filter)[layer]!;
    const layers = Array.from({ length: Paper.layerCount }, (_, layer) => {
      const fog = safelight === undefined ? 0 : safelight.luxSeconds * sensitivity(safelight.filter, layer);
      const sensed = sums.map(([filter, luxSeconds]) => ({
        luxSeconds,
        sensitivity: sensitivity(filter, layer),
      }));
      const tableOfLayer = () =>
        Uint16Array.from(
          tableByLog((log) => densityAt(paper.layerCurve, log), fog),
          (density) => Math.round(density * DENSITY_STEPS),
        );
      return {
        grid: new LightGrid(cells, sensed),
        densities: this.#densities.get(String(fog), tableOfLayer),
      };
    });
    const greys = this.#greys.get('of all layers', () =>
      Uint8Array.from({ length: DENSITY_TABLE_LENGTH }, (_, step) =>
        greyOfDensity(step / DENSITY_STEPS / Paper.layerCount, paper.figures.baseDensity),
      ),
    );
    fillRowsByLayers(this.#negative, this.#wholeSteps, layers, part, greys, pixels);
  }
}

function filtersOf({ safelight }: Sheet, { lights }: Band): string[] {
  const all = safelight === undefined ? lights : [...lights, safelight];
  return [...new Set(all.map(({ filter }) => filter))];
}

function fillRows(
  { samples }: Negative,
  steps: Float32Array,
  grid: LightGrid,
  { width, height, fromColumn, toColumn }: Part,
  greys: Uint8Array,
  pixels: Uint8Array,
): void {
  for (let row = 0; row < height; row++) {
    const light = grid.row(row);
    const start = row * width + fromColumn;
    for (let column = 0; column < toColumn - fromColumn; column++)
      pixels[start + column] = greys[(steps[samples[start + column]!]! + light[column]!) | 0]!;
  }
}

/** One emulsion layer: its light, and density by log exposure. */
interface Layer {
  readonly grid: LightGrid;
  readonly densities: Uint16Array;
}

/** The seven layers are written out: a loop over them takes three times as long (`npm run bench -- desk`). */
function fillRowsByLayers(
  { samples }: Negative,
  steps: Int16Array,
  layers: readonly Layer[],
  { width, height, fromColumn, toColumn }: Part,
  greys: Uint8Array,
  pixels: Uint8Array,
): void {
  const [a, b, c, d, e, f, g] = layers.map(({ densities }) => densities) as SevenOf<Uint16Array>;
  for (let row = 0; row < height; row++) {
    const lights = layers.map(({ grid }) => grid.wholeRow(row));
    const [atA, atB, atC, atD, atE, atF, atG] = lights as SevenOf<Int32Array>;
    const start = row * width + fromColumn;
    for (let column = 0; column < toColumn - fromColumn; column++) {
      const step = steps[samples[start + column]!]!;
      pixels[start + column] =
        greys[
          a[step + atA[column]!]! +
            b[step + atB[column]!]! +
            c[step + atC[column]!]! +
            d[step + atD[column]!]! +
            e[step + atE[column]!]! +
            f[step + atF[column]!]! +
            g[step + atG[column]!]!
        ]!;
    }
  }
}

type SevenOf<Each> = [Each, Each, Each, Each, Each, Each, Each];

import type { Negative } from '../negative/negative.js';
import { densityAt } from '../paper/characteristic-curve.js';
import { Paper } from '../paper/paper.js';
import { type Band, checkSheet, type Sheet, type SheetLight } from '../sheet/sheet.js';
import { fillRows, fillRowsByLayers, fillRowsByLevels } from './fill-rows.js';
import { type GreyPicture, greyOfDensity } from './grey.js';
import { Kept } from './kept.js';
import { type Box, CellGrid, Cells, type Part, placesAt } from './light-grid.js';
import { stepsOfLog, tableByLog } from './log-table.js';
import { type FilteredLight, levelsAt, senseOf, type TwoFilters, twoFilters } from './two-filters.js';

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
  readonly #mixed = new Kept<TwoFilters>();
  #paper: Paper | undefined;

  constructor(negative: Negative) {
    this.#negative = negative;
    this.#steps = negative.logTransmittance.map(stepsOfLog);
    this.#wholeSteps = Int16Array.from(this.#steps, Math.round);
  }

  /**
   * The developed sheet as it looks in white light.
   * Reflectance is 10^-D; the paper's base is shown nearly white. For each pixel this adds the negative's
   * density to the light at the easel and looks the sum up in the paper's table: once where a spot was lit
   * through one filter or two, once for each of the paper's layers around what was lit through more.
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
      const lit = new Set(band.lights.map(({ filter }) => filter)).size;
      if (filters.length <= 1) this.#renderAtOnce(sheet, band, filters[0], part, pixels);
      else if (lit <= 2) this.#renderTwo(sheet, band, part, pixels);
      else this.#renderMore(sheet, band, part, pixels);
    }
    return { width, height, pixels };
  }

  #beginFrame(paper: Paper): void {
    const kept = [this.#densities, this.#greys, this.#shares, this.#mixed];
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
    const sensed = [...sums.values()].map((luxSeconds) => ({ luxSeconds, sensitivity: 1 }));
    const grid = new CellGrid(cells, placesAt(cells, sensed));
    fillRows(this.#negative, this.#steps, grid, part, greys, pixels);
  }

  /** How a spot looks depends on the light of both together and on the second's share of it alone. */
  #renderTwo(sheet: Sheet, { lights }: Band, part: Part, pixels: Uint8Array): void {
    const cells = new Cells(lights, part);
    this.#fillTwo(sheet, cells, [...cells.lightByFilter(lights, this.#shares)], nowhere, part, pixels);
  }

  #fillTwo(
    { paper, safelight }: Sheet,
    cells: Cells,
    sums: readonly FilterSum[],
    without: Box,
    part: Part,
    pixels: Uint8Array,
  ): void {
    const [first, second] = [sums[0]!, sums[1] ?? [sums[0]![0], new Float64Array(cells.count)]].map(
      ([filter, luxSeconds]) => ({ luxSeconds, ...senseOf(paper, filter) }),
    ) as [FilteredLight, FilteredLight];
    const key = JSON.stringify([first.filter, second.filter, safelight?.filter, safelight?.luxSeconds]);
    const tables = this.#mixed.get(key, () =>
      twoFilters([first, second], this.#layerTables(paper, safelight), this.#greysOfSum(paper)),
    );
    const levels = levelsAt([first, second]);
    tables.makeLevelsOf(cells, levels);
    const places = placesAt(cells, [first, second]);
    const grids = { levels: new CellGrid(cells, levels), places: new CellGrid(cells, places) };
    fillRowsByLevels(this.#negative, this.#wholeSteps, grids, part, without, tables.greys, pixels);
  }

  /** As two, where no more than the two that reach farthest fell; only what the others lit is made layer by layer. */
  #renderMore(sheet: Sheet, { lights }: Band, part: Part, pixels: Uint8Array): void {
    const cells = new Cells(lights, part);
    const sums = farthestFirst([...cells.lightByFilter(lights, this.#shares)]);
    const others = sums.slice(2).map(([, luxSeconds]) => luxSeconds);
    const box = cells.boxOf(others[0]!.map((_, corner) => sumAt(others, corner)));
    this.#fillTwo(sheet, cells, sums.slice(0, 2), box, part, pixels);
    this.#fillLayers(sheet, cells, sums, box, part, pixels);
  }

  #fillLayers(
    { paper, safelight }: Sheet,
    cells: Cells,
    sums: readonly FilterSum[],
    box: Box,
    part: Part,
    pixels: Uint8Array,
  ): void {
    const layers = this.#layerTables(paper, safelight).map((densities, layer) => {
      const sensed = sums.map(([filter, luxSeconds]) => ({
        luxSeconds,
        sensitivity: sensitivityOf(paper, filter, layer),
      }));
      return { grid: new CellGrid(cells, placesAt(cells, sensed)), densities };
    });
    fillRowsByLayers(this.#negative, this.#wholeSteps, layers, part, box, this.#greysOfSum(paper), pixels);
  }

  /** Each layer's density by its light; the safelight's falls on it besides. */
  #layerTables(paper: Paper, safelight: SheetLight | undefined): Uint16Array[] {
    return Array.from({ length: Paper.layerCount }, (_, layer) => {
      const fog = safelight && safelight.luxSeconds * sensitivityOf(paper, safelight.filter, layer);
      return this.#densities.get(String(fog ?? 0), () =>
        Uint16Array.from(
          tableByLog((log) => densityAt(paper.layerCurve, log), fog ?? 0),
          (density) => Math.round(density * DENSITY_STEPS),
        ),
      );
    });
  }

  #greysOfSum(paper: Paper): Uint8Array {
    return this.#greys.get('of all layers', () =>
      Uint8Array.from({ length: DENSITY_TABLE_LENGTH }, (_, step) =>
        greyOfDensity(step / DENSITY_STEPS / Paper.layerCount, paper.figures.baseDensity),
      ),
    );
  }
}

const nowhere: Box = { left: 0, top: 0, right: 0, bottom: 0 };

/** A filter's name, and its light at each corner. */
type FilterSum = readonly [filter: string, luxSeconds: Float64Array];

function farthestFirst(sums: readonly FilterSum[]): FilterSum[] {
  const reach = ([, luxSeconds]: FilterSum) => luxSeconds.reduce((lit, lux) => lit + Number(lux > 0), 0);
  return [...sums].sort((one, other) => reach(other) - reach(one));
}

function sumAt(lights: readonly Float64Array[], corner: number): number {
  return lights.reduce((sum, luxSeconds) => sum + luxSeconds[corner]!, 0);
}

function sensitivityOf(paper: Paper, filter: string, layer: number): number {
  return 10 ** paper.logSensitivities(filter)[layer]!;
}

function filtersOf({ safelight }: Sheet, { lights }: Band): string[] {
  const all = safelight === undefined ? lights : [...lights, safelight];
  return [...new Set(all.map(({ filter }) => filter))];
}

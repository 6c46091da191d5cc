import { InputError } from '../../errors.js';
import type { Shape } from '../../recipe/shape.js';
import { logTransmittanceAt, type Negative } from '../negative/negative.js';
import type { Paper } from '../paper/paper.js';
import { coverOf } from './cover.js';

/**
 * A hand or card between lens and paper. 'inside': a dodging tool, that shades the shape. 'outside': a card
 * with a hole, or two hands, that shade all but the shape.
 */
export interface Tool {
  readonly shape: Shape;
  readonly shades: 'inside' | 'outside';
}

/** Light that fell through one filter, as it would be on the easel with no negative. */
export interface SheetLight {
  readonly filter: string;
  readonly luxSeconds: number;
  readonly tool?: Tool;
}

/** A part of the sheet from edge to edge that had the same lights: a patch of a strip, or the whole sheet. */
export interface Band {
  readonly fromPercent: number;
  readonly toPercent: number;
  readonly lights: readonly SheetLight[];
}

/** A sheet after exposure, before the developer. */
export interface Sheet {
  readonly paper: Paper;
  /** From 0 to 100 per cent without gaps, from left to right. */
  readonly bands: readonly Band[];
  /** What the safelight added everywhere, through the filter it resembles most. */
  readonly safelight?: SheetLight;
}

export const sheetBounds = { bands: 24, lightsPerBand: 256 } as const;

/** A sheet whose parts do not fit together. */
export class SheetError extends InputError {
  override readonly name = 'SheetError';
}

export function wholeSheet(paper: Paper, lights: readonly SheetLight[]): Sheet {
  return { paper, bands: [{ fromPercent: 0, toPercent: 100, lights }] };
}

/** The share of a light that reaches a point past the tool, 0 to 1. */
export function shareAt(light: SheetLight, aspect: number, xPercent: number, yPercent: number): number {
  if (light.tool === undefined) return 1;
  const cover = coverOf(light.tool.shape, aspect)(xPercent, yPercent);
  return light.tool.shades === 'inside' ? 1 - cover : cover;
}

/**
 * Density at one point of the developed sheet, exactly; `render` is the fast way to the whole picture.
 * @throws SheetError when bands leave a gap; PaperError for a filter that the paper has no figures for.
 */
export function sheetDensityAt(sheet: Sheet, negative: Negative, xPercent: number, yPercent: number): number {
  checkSheet(sheet);
  const band = sheet.bands.find(({ toPercent }) => xPercent < toPercent) ?? sheet.bands.at(-1)!;
  const aspect = negative.width / negative.height;
  const transmittance = 10 ** logTransmittanceAt(negative, xPercent, yPercent);
  const exposures = band.lights.map((light): [string, number] => [
    light.filter,
    light.luxSeconds * shareAt(light, aspect, xPercent, yPercent) * transmittance,
  ]);
  if (sheet.safelight !== undefined) exposures.push([sheet.safelight.filter, sheet.safelight.luxSeconds]);
  return sheet.paper.densityOf(exposures);
}

/** @throws SheetError */
export function checkSheet({ bands }: Sheet): void {
  if (bands.length === 0 || bands.length > sheetBounds.bands)
    throw new SheetError(`a sheet has 1 to ${sheetBounds.bands} bands; this one has ${bands.length}`);
  bands.forEach((band, index) => {
    const startPercent = bands[index - 1]?.toPercent ?? 0;
    if (band.fromPercent !== startPercent || !(band.toPercent > band.fromPercent))
      throw new SheetError(`band ${index + 1} should start at ${startPercent} % and end after it`);
    if (band.lights.length > sheetBounds.lightsPerBand)
      throw new SheetError(
        `band ${index + 1} has ${band.lights.length} lights; at most ${sheetBounds.lightsPerBand}`,
      );
  });
  if (bands.at(-1)!.toPercent !== 100) throw new SheetError('the last band should end at 100 %');
}

import { z } from 'zod';
import { text } from '../../shared-protocol/wire-types.js';

/**
 * How a scan of film goes together with light at the easel, as a strip of the negative's picture told it. It holds for this
 * enlarger, lens stop and size, this paper and filter, and for scans made alike.
 */
export const filmTieSchema = z
  .strictObject({
    contrast: z.number().min(0.4).max(2).describe('Densities at the easel over those of the scan.'),
    contrastSpread: spread(1),
    flareShare: z.number().min(0).max(0.3).describe("Stray light, as a share of the picture's mean light."),
    flareSpread: spread(0.3),
    filter: text(8, 24).describe('Of the strip; empty for none.'),
    speedMs: z
      .number()
      .min(1)
      .max(3_600_000)
      .describe('Milliseconds that would give 0.60 above white with no film in the carrier.'),
    filmLog: z.number().min(-4).max(0.5).describe('log10 of the transmittance at which light is known best.'),
    meanLight: z
      .number()
      .min(0)
      .max(2)
      .describe("The picture's mean light, as a share of that with no film."),
    lightSpreadStops: spread(3).describe('One standard deviation of the light there, in stops.'),
  })
  .describe('What a strip of this negative told of film and light.');

export type FilmTie = z.output<typeof filmTieSchema>;

function spread(most: number) {
  return z.number().min(0).max(most);
}

export function filmTieWords(tie: FilmTie | undefined): string {
  if (tie === undefined) return 'none';
  return `${Math.round(tie.speedMs)} ms without film, contrast ${tie.contrast.toFixed(2)}, flare ${(100 * tie.flareShare).toFixed(1)} %`;
}

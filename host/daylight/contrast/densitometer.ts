import { ContrastError } from './contrast.js';

/** How the enlarger lights the negative. */
export type LightKind = 'diffusion' | 'condenser';

export interface NegativeReadings {
  /** Density where the print's lightest wanted tone is, the dense part of the negative. */
  readonly highlightDensity: number;
  /** Density where the print's darkest wanted tone is, the thin part. */
  readonly shadowDensity: number;
  readonly light: LightKind;
  /** Silver scatters directed light; dyes do not, so dye negatives print alike in both kinds of light. */
  readonly image: 'silver' | 'dye';
  /** The share of the light through the thinnest part that strays everywhere, 0 to 0.1; 0 if not measured. */
  readonly flareShare?: number;
}

/**
 * With condensers a silver negative of this density range prints as a full one does in diffuse light (0.80 as
 * 1.05). From memory, medium confidence: a default to be replaced by one's own strip.
 */
export const condenserRangeShare = 0.75;

const DENSITY_BOUND = 4.5;
const FLARE_BOUND = 0.1;

/**
 * The paper range, in ISO R, that a negative needs: its density range as it arrives at the easel.
 * Source: a negative's effective density range should equal the paper's log exposure range (ISO 6846,
 * introduction); condensers raise contrast with silver and not with dye (Dickerson and Zawadzki, 'Condenser or
 * Diffusion Enlarger?', Photo Techniques); flare added to both ends, computed.
 * @throws ContrastError for densities that are none, or a highlight that is not denser than the shadow.
 */
export function neededRangeFromDensities(readings: NegativeReadings): number {
  checkReadings(readings);
  const read = readings.highlightDensity - readings.shadowDensity;
  const scattered =
    readings.light === 'condenser' && readings.image === 'silver' ? read / condenserRangeShare : read;
  const flare = readings.flareShare ?? 0;
  return 100 * Math.log10((1 + flare) / (10 ** -scattered + flare));
}

function checkReadings({ highlightDensity, shadowDensity, flareShare = 0 }: NegativeReadings): void {
  for (const [field, density] of Object.entries({ highlightDensity, shadowDensity }))
    if (!(density >= 0 && density <= DENSITY_BOUND))
      throw new ContrastError(
        field,
        `a density of ${density} is not possible; readings are from 0 to ${DENSITY_BOUND}`,
      );
  if (!(highlightDensity > shadowDensity))
    throw new ContrastError(
      'highlightDensity',
      `the highlight reads ${highlightDensity} and the shadow ${shadowDensity}; on a negative the highlight is the denser: were they swapped?`,
    );
  if (!(flareShare >= 0 && flareShare <= FLARE_BOUND))
    throw new ContrastError(
      'flareShare',
      `a flare of ${100 * flareShare} % is outside 0 to ${100 * FLARE_BOUND} %`,
    );
}

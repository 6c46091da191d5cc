import type { ErrorBudget } from './error-budget.js';
import type { Light } from './light.js';
import type { PaperWhite } from './paper-white.js';
import { INNER_SHARE, patchTone } from './patch-tones.js';
import { StripRefused } from './refusal.js';
import { withoutFlare } from './stray-light.js';
import { isToneDensity, type TonePlace } from './tone.js';
import type { Upright } from './upright.js';

/** Of the scan's longer side, how much of a grey is looked at, to either side of the place. */
const NEAR_SHARE = 0.006;
const LEAST_NEAR_PIXELS = 5;
/** An even grey scatters less, in density, whatever its paper is. */
const MOST_SPREAD = 0.03;

/**
 * The density above paper white of a grey that lies in the same scan, such as a patch of a grey scale beside the strip: by the
 * device that shows the patches, so that much of what it is off by is the same for both.
 * @param place in pixels of `scan`.
 * @param white by places of `picture`.
 * @throws StripRefused where there is no even grey between white and black.
 */
export function toneInScan(
  scan: Light,
  { x, y }: TonePlace,
  picture: Upright,
  white: Pick<PaperWhite, 'logAt'>,
  budget: ErrorBudget,
): number {
  const near = Math.max(LEAST_NEAR_PIXELS, NEAR_SHARE * Math.max(scan.width, scan.height));
  const half = near / INNER_SHARE;
  if (x < near || y < near || x + near > scan.width || y + near > scan.height)
    throw new StripRefused('no-grey-there');
  const log = white.logAt(...withinPicture(picture, x, y));
  const place = { left: x - half, right: x + half, top: y - half, bottom: y + half, lean: 0 };
  const { density, spread } = patchTone(scan, { logAt: () => log }, place);
  const tone = withoutFlare(density, budget.flareShare);
  if (spread > MOST_SPREAD || !isToneDensity(tone)) throw new StripRefused('no-grey-there');
  return tone;
}

/** The place of the picture, or the nearest one: beyond its sheet paper white is not known better than at its side. */
function withinPicture({ inScan, width, height }: Upright, x: number, y: number): [x: number, y: number] {
  const [originX, originY] = inScan(0, 0);
  const [rightX, rightY] = inScan(1, 0);
  const [downX, downY] = inScan(0, 1);
  const [a, b, c, d] = [rightX - originX, downX - originX, rightY - originY, downY - originY];
  const area = a * d - b * c;
  const [offX, offY] = [x - originX, y - originY];
  const within = (value: number, most: number) => Math.min(most - 1, Math.max(0, value));
  return [within((d * offX - b * offY) / area, width), within((a * offY - c * offX) / area, height)];
}

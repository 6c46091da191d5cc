import { formatAperture10 } from '../../recipe/index.js';
import { closedBy, readAperture } from './aperture.js';

/** The aperture after the lens was closed by so many whole stops; 0 is unknown, and stays so. */
export function stoppedDownAperture10(aperture10: number, stops: number): number {
  if (aperture10 === 0 || stops === 0) return aperture10;
  return Math.round(closedBy(readAperture(formatAperture10(aperture10), 'halves'), stops).marked * 10);
}

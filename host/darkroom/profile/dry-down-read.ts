import { isoPoints } from '../paper/iso-6846.js';
import { betweenPatches, type Interval, stopsAt } from '../reading/strip-figures.js';
import { type Doubted, difference, intervalOf } from './doubted.js';
import { join } from './join.js';
import { errorsOf, figureOf, type NumberedStrip, patchesOf } from './strip-fit.js';

/**
 * How much darker the paper dries, in stops: the same strip, scanned wet and dry, has its 0.60 above white at less light dry.
 * Both scans have the light of the patches in common and the scanner's tone curve.
 */
export function dryDownOf(strips: readonly NumberedStrip[]): Interval | undefined {
  const told = strips.flatMap((strip) => {
    const of = darkerDry(strip);
    return of === undefined ? [] : [{ number: strip.number, of, unknowns: ['dry-down'] }];
  });
  const joined = join(told).figures.get('dry-down');
  return joined && intervalOf(joined);
}

function darkerDry(strip: NumberedStrip): Doubted | undefined {
  const { reading, number } = strip;
  if (reading.wet === undefined) return undefined;
  const [wet, dry] = [stopsOn(strip, reading.wet, ', wet'), stopsOn(strip, reading.patches, '')];
  if (wet === undefined || dry === undefined) return undefined;
  const between = betweenPatches(patchesOf(reading, reading.patches));
  const { value, shifts } = difference(wet, dry);
  return { value, shifts: new Map([...shifts, [`strip ${number}: between patches`, between]]) };
}

function stopsOn(
  strip: NumberedStrip,
  patches: NumberedStrip['reading']['patches'],
  scan: string,
): Doubted | undefined {
  const seen = patchesOf(strip.reading, patches);
  return figureOf(seen, errorsOf(strip, seen, scan), (some) => stopsAt(some, isoPoints.speedNetDensity));
}

import { asProfile, signatureAt, tagOffset } from './profile-tags.js';

/**
 * The tone curve of a grey scanner's colour profile, which sharp leaves aside: it makes light of colour profiles alone.
 * Curve types as in ICC.1:2010, 10.5 (curveType), 10.15 (parametricCurveType), from memory; checked against another
 * library's figures in the tests.
 */

/** Light for a code, both 0 to 1. */
export type ToneCurve = (code: number) => number;

/** @returns undefined for a profile of colours, or one whose curve cannot be read. */
export function greyToneCurve(profile: Uint8Array): ToneCurve | undefined {
  try {
    const view = asProfile(profile, 'GRAY');
    const at = view && tagOffset(view, 'kTRC');
    return at === undefined ? undefined : curveAt(view!, at);
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

function curveAt(view: DataView, at: number): ToneCurve | undefined {
  const type = signatureAt(view, at);
  if (type === 'para') return parametric(view, at);
  return type === 'curv' ? sampled(view, at) : undefined;
}

/** None: light as it is. One: a gamma in 1/256. More: a table. */
function sampled(view: DataView, at: number): ToneCurve {
  const count = view.getUint32(at + 8);
  if (count === 0) return (code) => code;
  if (count === 1) {
    const gamma = view.getUint16(at + 12) / 256;
    return (code) => code ** gamma;
  }
  const table = Float64Array.from(
    { length: count },
    (_, each) => view.getUint16(at + 12 + 2 * each) / 65_535,
  );
  return (code) => {
    const place = code * (count - 1);
    const below = Math.min(count - 2, Math.floor(place));
    return table[below]! + (table[below + 1]! - table[below]!) * (place - below);
  };
}

/** Parameters by function type: g; g a b; g a b c; g a b c d; g a b c d e f. */
const PARAMETERS = [1, 3, 4, 5, 7];

function parametric(view: DataView, at: number): ToneCurve | undefined {
  const type = view.getUint16(at + 8);
  const count = PARAMETERS[type];
  if (count === undefined) return undefined;
  const given = Array.from({ length: count }, (_, each) => view.getInt32(at + 12 + 4 * each) / 65_536);
  const [g, a = 1, b = 0] = given as [number, ...number[]];
  if (type === 0) return (code) => code ** g;
  const power = (code: number) => Math.max(0, a * code + b) ** g;
  if (type <= 2) {
    const c = given[3] ?? 0;
    return (code) => (code >= -b / a ? power(code) + c : c);
  }
  const [c, d, e = 0, f = 0] = given.slice(3) as [number, number, ...number[]];
  return (code) => (code >= d ? power(code) + e : c * code + f);
}

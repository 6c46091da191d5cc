/** Stray light lies over white and black alike: (r + f) / (1 + f) is seen of a share r. */
export function withoutFlare(density: number, flare: number): number {
  const share = 10 ** -density * (1 + flare) - flare;
  return -Math.log10(Math.max(share, LEAST_SHARE));
}
const LEAST_SHARE = 10 ** -2.4;

/** The density that a device shows: stray light lies over white and black alike, and then comes its tone curve, off by `gamma`. */
export function seenDensity(density: number, gamma: number, flare: number): number {
  const share = Math.max(0, flare);
  return -gamma * Math.log10((10 ** -density + share) / (1 + share));
}

/** A dry-down in stops (below zero), for people: log2(1 - d). 10 per cent is -0.152. */
export function dryDownStops(dryDown10: number): number {
  return Math.log2(1 - dryDown10 / 1000);
}

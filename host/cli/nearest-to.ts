/** Words for what an offset cannot say to the millisecond; nothing where it can. */
export function nearestTo(wantedMs: number, doseMs: number): string {
  if (wantedMs === doseMs) return '';
  const percent = Math.abs(100 * (doseMs / wantedMs - 1)).toFixed(2);
  return ` (the nearest to ${wantedMs / 1000} s that an offset in 1/120 stop can say: ${percent} % ${doseMs < wantedMs ? 'less' : 'more'})`;
}

/** Lists for people end: a rotten flash may miss thousands of numbers, in as many places. */
const MOST_RANGES = 8;

/** `12-19, 40, and 7 more ranges`, of numbers in rising order. */
export function numberRanges(numbers: readonly number[]): string {
  const ranges: { from: number; to: number }[] = [];
  for (const number of numbers) {
    const last = ranges.at(-1);
    if (last !== undefined && number === last.to + 1) last.to = number;
    else ranges.push({ from: number, to: number });
  }
  const shown = ranges
    .slice(0, MOST_RANGES)
    .map(({ from, to }) => (from === to ? `${from}` : `${from}-${to}`));
  const more = ranges.length - shown.length;
  return [...shown, ...(more > 0 ? [`and ${more} more ${more === 1 ? 'range' : 'ranges'}`] : [])].join(', ');
}

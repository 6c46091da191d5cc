import type { EveningBench } from './evening-bench.js';

/** What each promise of the panel's first row means for the next tap: the lamp, or the row that follows. */
const promises: readonly { row: RegExp; lamp?: boolean; next?: RegExp }[] = [
  { row: /^Tap (start|go on) /, lamp: true },
  { row: /^Press/, lamp: false },
  { row: /^Tap (strip|print|sheet|test) Hold light/, lamp: false, next: /^Tap start / },
  {
    row: /^Tap (takes|closed) /,
    lamp: false,
    next: /^(Tap (closed|strip|print|sheet|test|lens) |Hold: light)/,
  },
  {
    row: /^Tap (again|sheet) /,
    lamp: false,
    next: /^(Tap (start|bath|strip|print|sheet|test|lens) |Hold: l(ight|ens))/,
  },
  { row: /^Tap baths /, lamp: false, next: /^(Tap bath |Hold: light)/ },
  { row: /^Tap bath /, lamp: false, next: /^Tap next / },
  { row: /^Tap next /, lamp: false, next: /^Tap (bath|again|sheet|read) / },
  { row: /^Tap read /, lamp: false, next: /^Tap takes / },
  { row: /^Tap begin /, lamp: false, next: /^Hold: back/ },
  { row: /^Tap lens /, lamp: false, next: /^Hold: lens/ },
  { row: /^Hold: /, lamp: false, next: /^Hold: / },
];

/** Taps, and answers what was promised and not kept; undefined when all is well. */
export function brokenPromise(bench: EveningBench): string | undefined {
  const promised = bench.panel[0]!;
  const promise = promises.find(({ row }) => row.test(promised));
  if (!promise) return `'${promised}' promises nothing`;
  const pulsesBefore = bench.pulses.length;
  bench.tap();
  const shows = bench.panel[0]!;
  // The rest of a pulse may be so short that the lamp is out again by now.
  const lit = bench.board.lampOn || (promise.lamp === true && bench.pulses.length > pulsesBefore);
  if (promise.lamp !== undefined && lit !== promise.lamp) {
    return `'${promised}' left the lamp ${bench.board.lampOn ? 'on' : 'off'}, now '${shows}'`;
  }
  if (promise.next && !promise.next.test(shows)) return `'${promised}' led to '${shows}'`;
  return undefined;
}

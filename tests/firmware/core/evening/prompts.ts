import type { EveningBench } from './evening-bench.js';

/** What each prompt of the panel's first row means for the next tap: the lamp, or the row that follows. */
const prompts: readonly { row: RegExp; lamp?: boolean; next?: RegExp }[] = [
  { row: /^Tap (start Hold back|go on Hold end)/, lamp: true },
  { row: /^Press/, lamp: false },
  {
    row: /^Tap go on Hold focus/,
    lamp: false,
    next: /^(Tap start |Filter in|Tap yes Hold back|Tap go on Hold focus)/,
  },
  {
    row: /^(Filter in\? Tap$|Tap (done|yes) Hold back)/,
    lamp: false,
    next: /^(Tap start|Filter in)/,
  },
  { row: /^Tap (strip|print|sheet|test) Hold focus/, lamp: false, next: /^(Tap start |Filter in)/ },
  {
    row: /^Tap (accept|done) Hold rest/,
    lamp: false,
    next: /^(Tap (done|strip|print|sheet|test|lens) |Turn knob)/,
  },
  {
    row: /^Tap (again|sheet) /,
    lamp: false,
    next: /^(Filter in|Tap (start|bath|strip|print|sheet|test|lens) |Turn knob|Stopped down)/,
  },
  { row: /^Tap baths /, lamp: false, next: /^(Tap bath |Turn knob)/ },
  { row: /^Tap bath /, lamp: false, next: /^(Tap next |Hold: back)/ },
  { row: /^Tap at first tone/, lamp: false, next: /^Tap next / },
  { row: /^Tap next /, lamp: false, next: /^Tap (bath|again|sheet|read) / },
  { row: /^Tap read /, lamp: false, next: /^Tap accept / },
  { row: /^Tap begin /, lamp: false, next: /^Hold: back/ },
  { row: /^Tap lens /, lamp: false, next: /^Stopped down/ },
  { row: /^Stopped down/, lamp: false, next: /^Stopped down/ },
  { row: /^Tap clock /, lamp: false, next: /^Tap set / },
  { row: /^Tap check /, lamp: false, next: /^Tap yes Hold rest/ },
  {
    row: /^Tap (yes|no) Hold rest/,
    lamp: false,
    next: /^(Tap (yes|no|check|start) |Unplugged)/,
  },
  { row: /^Unplugged\? /, lamp: false, next: /^Tap yes Hold rest/ },
  { row: /^Tap set /, lamp: false, next: /^(Tap |Turn knob)/ },
  { row: /^Tap keep /, lamp: false, next: /^(Tap |Turn knob)/ },
  { row: /^Hold: /, lamp: false, next: /^Hold: / },
  { row: /^Turn knob/, lamp: false, next: /^Turn knob/ },
];

/** Taps, and answers what was promised and not kept; undefined when all is well. */
export function brokenPrompt(bench: EveningBench): string | undefined {
  const promised = bench.panel[0]!;
  const prompt = prompts.find(({ row }) => row.test(promised));
  if (!prompt) return `'${promised}' says nothing of the next tap`;
  const pulsesBefore = bench.pulses.length;
  bench.tap();
  const shows = bench.panel[0]!;
  // The rest of a pulse may be so short that the lamp is out again by now.
  const lit = bench.board.lampOn || (prompt.lamp === true && bench.pulses.length > pulsesBefore);
  if (prompt.lamp !== undefined && lit !== prompt.lamp) {
    return `'${promised}' left the lamp ${bench.board.lampOn ? 'on' : 'off'}, now '${shows}'`;
  }
  if (prompt.next && !prompt.next.test(shows)) return `'${promised}' led to '${shows}'`;
  return undefined;
}

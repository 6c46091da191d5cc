import type { EveningBench } from './evening-bench.js';

/** How long each lasts in milliseconds, as README has it. */
const NAMES = new Map([
  [300, 'long'],
  [100, 'short'],
  [40, 'quick'],
]);

/** The rhythm since `fromUs` as people hear it: long, short or quick, with the pauses left out. */
export function heardSince(bench: EveningBench, fromUs: number): string {
  const tones = bench.board.tones.filter(({ atUs }) => atUs >= fromUs);
  const lengths = tones.flatMap(({ atUs, hz }, at) => {
    const next = tones[at + 1];
    return hz === 0 || next === undefined ? [] : [(next.atUs - atUs) / 1000];
  });
  return lengths.map((ms) => NAMES.get(ms) ?? `${ms} ms`).join(' ');
}

/** What is heard while so many seconds go by. */
export function heardIn(bench: EveningBench, seconds: number): string {
  const fromUs = bench.board.nowUs;
  bench.seconds(seconds);
  return heardSince(bench, fromUs);
}

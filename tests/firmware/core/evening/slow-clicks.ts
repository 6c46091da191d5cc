import { boathouse } from './boathouse.js';
import { chooseWork, type Work } from './choose-work.js';
import type { EveningBench } from './evening-bench.js';

/** Ready for the first light, or the first bath. */
export function makeReady(bench: EveningBench, job: Work): void {
  bench.print(boathouse);
  bench.focusAndStopDown();
  chooseWork(bench, job);
  bench.tap();
  bench.seconds(1);
}

/** Turns click by click. @returns the screen at the end */
export function turnSlowly(bench: EveningBench, clicks: number, secondsAClick: number): string {
  for (let click = 0; click < Math.abs(clicks); click++) {
    bench.turn(Math.sign(clicks));
    bench.seconds(secondsAClick);
  }
  return bench.panel.join('|');
}

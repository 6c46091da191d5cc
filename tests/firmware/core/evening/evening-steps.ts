/** What evenings are put together of, where one is held against another. */
import { chooseWork, type Work } from './choose-work.js';
import type { EveningBench } from './evening-bench.js';

export type Step = (bench: EveningBench) => void;

export const turn =
  (clicks: number): Step =>
  (bench) => {
    bench.turn(clicks);
    bench.seconds(0.3);
  };

export const push: Step = (bench) => bench.push();
export const hold: Step = (bench) => bench.hold();

/** The lens is confirmed anew where the board asks. */
export const lens: Step = (bench) => {
  if (!bench.panel[0]!.startsWith('Tap lens')) return;
  bench.tap();
  bench.hold();
};

export const give =
  (lights: number): Step =>
  (bench) => {
    lens(bench);
    bench.tap();
    for (let light = 0; light < lights; light++) {
      bench.answer();
      bench.tap();
      bench.seconds(70);
    }
  };

export const choose =
  (job: Work): Step =>
  (bench) => {
    bench.greet();
    chooseWork(bench, job);
  };

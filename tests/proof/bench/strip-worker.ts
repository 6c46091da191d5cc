import { parentPort, workerData } from 'node:worker_threads';
import type { StripWishes } from '../../host/darkroom/reading/made-strip.js';
import { trial } from '../../host/darkroom/reading/reading-trials.js';
import { scatteredSeed } from '../../setup/random.js';

/** Some seeds of one kind of strip; what is posted back is what `tallyOf` adds up. */
export interface StripTask {
  readonly wishes: StripWishes;
  readonly seeds: readonly number[];
}

const { wishes, seeds } = workerData as StripTask;
parentPort!.postMessage(
  seeds.map((seed) => {
    const { reading, strip, offStops, isInside } = trial(scatteredSeed(seed), wishes);
    const { refused, figures } = reading;
    return {
      seed,
      offStops,
      isInside,
      strip: { rangeR: strip.rangeR },
      reading: { refused, figures: figures && { base: figures.base, isoR: figures.isoR } },
    };
  }),
);

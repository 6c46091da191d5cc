import { parentPort, workerData } from 'node:worker_threads';
import type { StripWishes } from '../../host/darkroom/reading/made-strip.js';
import { trial } from '../../host/darkroom/reading/reading-trials.js';
import { scatteredSeed } from '../../setup/random.js';
import type { SeedsTask } from './by-seeds.js';

/** What is posted back is what `tally` adds up. */
const { wishes, seeds } = workerData as SeedsTask<StripWishes>;
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

import { Worker } from 'node:worker_threads';

/** Some seeds of one kind of strip. */
export interface SeedsTask<Wishes> {
  readonly wishes: Wishes;
  readonly seeds: readonly number[];
}

const WORKERS = 2;

/**
 * What a module that runs in workers posts back of each seed, in no order.
 * @param module answers a `SeedsTask` with a list, one of each seed.
 */
export async function bySeeds<Wishes, Told>(
  module: URL,
  wishes: Wishes,
  seeds: readonly number[],
): Promise<Told[]> {
  const parts = Array.from({ length: WORKERS }, (_, part) =>
    answer<Wishes, Told>(module, { wishes, seeds: seeds.filter((_, at) => at % WORKERS === part) }),
  );
  return (await Promise.all(parts)).flat();
}

function answer<Wishes, Told>(module: URL, task: SeedsTask<Wishes>): Promise<Told[]> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(module, { workerData: task });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
}

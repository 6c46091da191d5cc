import { Worker } from 'node:worker_threads';
import { type Exploration, Gathering, type OnProgress } from './explore.js';
import type { Found } from './walker.js';
import type { Answer, Order } from './walker-thread.js';

const program = new URL('walker-thread.js', import.meta.url);
/** So that a walker never waits for the next. */
const SHARES_AHEAD = 2;

/** As `explore`, with so many walkers, each in a thread; finds the same. @throws Violation */
export async function exploreInThreads(
  module: WebAssembly.Module,
  mostStates: number,
  threads: number,
  onProgress: OnProgress = () => {},
): Promise<Exploration> {
  const gathering = new Gathering(module, mostStates, onProgress);
  const buffers = gathering.tree.buffers;
  const workers = Array.from(
    { length: threads },
    () => new Worker(program, { workerData: { module, buffers } }),
  );
  try {
    await gather(gathering, workers);
    return gathering.result();
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
}

function gather(gathering: Gathering, workers: readonly Worker[]): Promise<void> {
  const waiting = Array.from({ length: SHARES_AHEAD }, () => workers).flat();
  const found = new Map<number, Found>();
  let given = 0;
  let gathered = 0;
  const give = () => {
    while (waiting.length > 0) {
      const share = gathering.nextShare(given === gathered);
      if (share === undefined) return;
      waiting.shift()!.postMessage({ order: given++, share } satisfies Order);
    }
  };
  return new Promise((resolve, reject) => {
    const take = (worker: Worker, answer: Answer) => {
      found.set(answer.order, answer.found);
      waiting.push(worker);
      for (let next = found.get(gathered); next !== undefined; next = found.get(gathered)) {
        found.delete(gathered++);
        gathering.add(next);
      }
      give();
      if (gathering.isDone || given === gathered) resolve();
    };
    for (const worker of workers) {
      worker.on('error', reject);
      worker.on('message', (answer: Answer) => {
        try {
          take(worker, answer);
        } catch (error) {
          reject(error);
        }
      });
    }
    give();
  });
}

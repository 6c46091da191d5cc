/** Does what it is sent, in a thread of its own: see `WorkThread`. */
import { parentPort } from 'node:worker_threads';
import type { Done, Order } from '../work-thread.js';
import { works } from './works.js';

parentPort!.on('message', async (order: Order) => {
  parentPort!.postMessage(await outcomeOf(order));
});

async function outcomeOf({ work, asked }: Order): Promise<Done> {
  try {
    return { result: await works[work](asked as never) };
  } catch (error) {
    return { error };
  }
}

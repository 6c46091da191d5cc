/** A thread of its own for a walker: told which nodes to expand, it answers what it found. */
import { parentPort, workerData } from 'node:worker_threads';
import type { Share } from './explore.js';
import { Tree, type TreeBuffers } from './tree.js';
import { type Found, Walker } from './walker.js';

export interface Order {
  readonly order: number;
  readonly share: Share;
}

export interface Answer {
  readonly order: number;
  readonly found: Found;
}

const { module, buffers } = workerData as { module: WebAssembly.Module; buffers: TreeBuffers };
const walker = new Walker(module, new Tree(buffers));

parentPort!.on('message', ({ order, share }: Order) => {
  const found = walker.expand(...share);
  parentPort!.postMessage({ order, found } satisfies Answer);
});

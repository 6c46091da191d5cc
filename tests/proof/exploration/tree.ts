/** Where an exploration goes on from `beginnings[~parent]`, in place of a node. */
export type Parent = number;

/** So much of the table of hashes stays empty, that few are looked at before a hash is found or known to be new. */
const ROOM = 2;
const NONE = 0n;

/** What threads share of a tree. */
export interface TreeBuffers {
  readonly hashes: SharedArrayBuffer;
  readonly parents: SharedArrayBuffer;
  readonly actions: SharedArrayBuffer;
  readonly depths: SharedArrayBuffer;
}

/**
 * Every state that was met: its hash, and the action that leads to it from another. 22 bytes a state; its content is had by
 * going there again. One thread adds, others may look: what they do not see yet they will report once more.
 */
export class Tree {
  count = 0;
  readonly buffers: TreeBuffers;
  readonly #hashes: BigUint64Array;
  readonly #parents: Int32Array;
  readonly #actions: Uint8Array;
  readonly #depths: Uint8Array;

  static ofAtMost(nodes: number): Tree {
    const slots = 2 ** Math.ceil(Math.log2(nodes * ROOM));
    return new Tree({
      hashes: new SharedArrayBuffer(slots * 8),
      parents: new SharedArrayBuffer(nodes * 4),
      actions: new SharedArrayBuffer(nodes),
      depths: new SharedArrayBuffer(nodes),
    });
  }

  constructor(buffers: TreeBuffers) {
    this.buffers = buffers;
    this.#hashes = new BigUint64Array(buffers.hashes);
    this.#parents = new Int32Array(buffers.parents);
    this.#actions = new Uint8Array(buffers.actions);
    this.#depths = new Uint8Array(buffers.depths);
  }

  has(hash: bigint): boolean {
    return Atomics.load(this.#hashes, this.#slotOf(hash)) !== NONE;
  }

  /** False when there was such a state. */
  add(hash: bigint, parent: Parent, action: number): boolean {
    const slot = this.#slotOf(hash);
    if (this.#hashes[slot] !== NONE) return false;
    this.#parents[this.count] = parent;
    this.#actions[this.count] = action;
    this.#depths[this.count] = parent < 0 ? 0 : this.depthOf(parent) + 1;
    this.count++;
    Atomics.store(this.#hashes, slot, hash);
    return true;
  }

  parentOf(node: number): Parent {
    return this.#parents[node]!;
  }

  actionOf(node: number): number {
    return this.#actions[node]!;
  }

  depthOf(node: number): number {
    return this.#depths[node]!;
  }

  /** Where it is, or would be. */
  #slotOf(hash: bigint): number {
    const mask = this.#hashes.length - 1;
    for (let slot = Number(hash & BigInt(mask)); ; slot = (slot + 1) & mask) {
      const there = Atomics.load(this.#hashes, slot);
      if (there === hash || there === NONE) return slot;
    }
  }
}

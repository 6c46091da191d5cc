import { job, runState } from '../../../shared-protocol/schema.js';
import { actions, beginnings } from './actions.js';
import { type ExploredBoard, Violation } from './explored-board.js';
import { Tree } from './tree.js';
import { type Found, replayCommand, Walker } from './walker.js';

export interface Exploration {
  readonly states: number;
  readonly transitions: number;
  readonly depth: number;
  readonly promptsTried: number;
  readonly accountsChecked: number;
  readonly statesByName: Readonly<Record<string, number>>;
  /** By the state of the evening and the kind of work: how many were met. */
  readonly statesByWork: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /** The actions that could be done in no situation of a state of the evening. */
  readonly neverDone: Readonly<Record<string, readonly string[]>>;
}

/** Nodes whose actions are tried at one go. */
export const NODES_AT_ONCE = 64;
const STATES_BETWEEN_WORDS = 20_000;

/*
 * What is abstracted away. Two situations are taken for one, and only the first is explored further, when they differ
 * only in what is marked so beside the fields of firmware/core/state (see fingerprint.ts); and in: times of timers to
 * 50 ms, what is left of a piece to half a second; what stands in a half-received line, in an upload under way and in
 * the answers kept for repeats; the time of day and the numbers in the log; settings other than the three that steer
 * pedal and baths; what the shelf holds. Left out: a full serial line (tests/proof/world has it) and bounces of the contacts
 * (tests/firmware/core/pedal). Merging hides states, it never invents any: whatever is reported here really happens.
 */

/** Told now and then how far an exploration has come; the depth is of the states that are being expanded. */
export type OnProgress = (states: number, depth: number) => void;

/**
 * Breadth first from a board just started, and from far into each kind of work: in each state every action is tried, and
 * each state that is new by its hash is held against the invariants. Stops after `mostStates`.
 * @throws Violation with the command that goes the same way again.
 */
export function explore(
  module: WebAssembly.Module,
  mostStates: number,
  onProgress: OnProgress = () => {},
  onBoard: (board: ExploredBoard) => void = () => {},
): Exploration {
  const gathering = new Gathering(module, mostStates, onProgress);
  const walker = new Walker(module, gathering.tree);
  onBoard(walker.board);
  for (let share = gathering.nextShare(true); share !== undefined; share = gathering.nextShare(true))
    gathering.add(walker.expand(...share));
  return gathering.result();
}

/**
 * Goes one way again, as a violation tells it, and then holds the last state against the invariants.
 * @param tell told after each action what the board is doing then.
 * @throws Violation as `explore` does; Error when there is no action of such a name.
 */
export function replay(
  module: WebAssembly.Module,
  names: readonly string[],
  tell: (words: string) => void,
): void {
  const walker = new Walker(module, Tree.ofAtMost(1));
  walker.follow(names, (name) => tell(`${name}: ${walker.board.words}`));
  walker.check();
}

/** Nodes from the first to before the last. */
export type Share = readonly [number, number];

/**
 * What walkers find, put together in the order of the tree. Whoever found it, and whenever: of two ways to a state the first
 * in that order counts, so that any number of walkers finds the same.
 */
export class Gathering {
  readonly tree: Tree;
  readonly #mostStates: number;
  readonly #onProgress: OnProgress;
  readonly #done = new Float64Array(runState.options.length * actions.length);
  readonly #met = new Float64Array(runState.options.length * job.options.length);
  #promptsTried = 0;
  #accountsChecked = 0;
  #given = 0;
  #depth = 0;
  #toldOf = 0;

  constructor(module: WebAssembly.Module, mostStates: number, onProgress: OnProgress) {
    this.#mostStates = mostStates;
    this.#onProgress = onProgress;
    this.tree = Tree.ofAtMost(mostStates + NODES_AT_ONCE * actions.length + beginnings.length);
    const walker = new Walker(module, this.tree);
    for (const [index, names] of beginnings.entries()) {
      walker.follow(names);
      this.tree.add(walker.board.fingerprint(), ~index, 0);
    }
  }

  get isDone(): boolean {
    return this.tree.count >= this.#mostStates;
  }

  /** What is to be expanded next; a share that is smaller than usual only where nobody is at work who could add to it. */
  nextShare(nobodyIsAtWork: boolean): Share | undefined {
    const { count } = this.tree;
    const isSmall = count - this.#given < NODES_AT_ONCE;
    if (this.isDone || this.#given === count || (isSmall && !nobodyIsAtWork)) return undefined;
    const first = this.#given;
    this.#given = Math.min(count, first + NODES_AT_ONCE);
    return [first, this.#given];
  }

  /** To be told of the shares in their order. @throws Violation */
  add(found: Found): void {
    if (this.isDone) return;
    for (let at = 0; at < found.done.length; at++) this.#done[at]! += found.done[at]!;
    for (const state of found.states) {
      if (!this.tree.add(state.hash, state.parent, state.action)) continue;
      this.#met[state.state * job.options.length + state.job]!++;
      this.#promptsTried += state.promptsTried;
      this.#accountsChecked += state.accountsChecked;
      this.#depth = this.tree.depthOf(state.parent);
    }
    if (found.violation !== undefined) {
      const { message, parent, action } = found.violation;
      throw new Violation(`${message}\n${replayCommand([...this.#wayTo(parent), actions[action]!.name])}`);
    }
    if (this.tree.count < this.#toldOf + STATES_BETWEEN_WORDS) return;
    this.#toldOf = this.tree.count;
    this.#onProgress(this.tree.count, this.#depth);
  }

  result(): Exploration {
    const states = [...runState.options.keys()];
    const nameOf = (state: number) => runState.options[state]!;
    const rowOf = (state: number) =>
      Array.from(this.#met.subarray(state * job.options.length, (state + 1) * job.options.length));
    const doneIn = (state: number, action: number) => this.#done[state * actions.length + action]!;
    return {
      states: this.tree.count,
      transitions: this.#done.reduce((sum, count) => sum + count, 0),
      depth: this.#depth,
      promptsTried: this.#promptsTried,
      accountsChecked: this.#accountsChecked,
      statesByName: Object.fromEntries(
        states.map((state) => [nameOf(state), rowOf(state).reduce((sum, count) => sum + count, 0)]),
      ),
      statesByWork: Object.fromEntries(
        states.map((state) => [
          nameOf(state),
          Object.fromEntries(
            rowOf(state).flatMap((count, at) => (count === 0 ? [] : [[job.options[at]!, count]])),
          ),
        ]),
      ),
      neverDone: Object.fromEntries(
        states.map((state) => [
          nameOf(state),
          actions.flatMap(({ name }, at) => (doneIn(state, at) === 0 ? [name] : [])),
        ]),
      ),
    };
  }

  #wayTo(node: number): string[] {
    const names: string[] = [];
    let at = node;
    for (; this.tree.parentOf(at) >= 0; at = this.tree.parentOf(at))
      names.unshift(actions[this.tree.actionOf(at)]!.name);
    return [...beginnings[~this.tree.parentOf(at)]!, ...names];
  }
}

import { runState } from '../../../shared-protocol/schema.js';
import { actions, beginnings, greet, preparations } from './actions.js';
import { type BoardState, ExploredBoard, Violation } from './explored-board.js';
import { checkAccount, checkPrompt, checkSettled, checkWayBack } from './invariants.js';
import type { Tree } from './tree.js';

const START_TAKES_US = 1_000_000;

/** A state that a walker had not seen before, and what it was held against. */
export interface NewState {
  readonly hash: bigint;
  readonly parent: number;
  readonly action: number;
  /** Of `runState` and of `jobs`. */
  readonly state: number;
  readonly job: number;
  readonly promptsTried: number;
  readonly accountsChecked: number;
}

/** What came of trying every action in some nodes' states. */
export interface Found {
  readonly states: NewState[];
  /** How often an action was done in a state of the evening; at `state * actions.length + action`. */
  readonly done: Uint32Array;
  /** What must never happen, and where: nothing behind it was tried. */
  violation?: { readonly message: string; readonly parent: number; readonly action: number };
}

interface Reached {
  readonly node: number;
  readonly state: BoardState;
}

/** Goes to nodes of the tree and tries every action from there, on a board of its own. */
export class Walker {
  readonly #board: ExploredBoard;
  readonly #start: BoardState;
  readonly #tree: Tree;
  readonly #beginnings = new Map<number, BoardState>();
  /** The way to the node where it was last, by depth: neighbours in the tree have most of it in common. */
  #way: Reached[] = [];

  constructor(module: WebAssembly.Module, tree: Tree) {
    this.#board = new ExploredBoard(module);
    this.#board.advanceUs(START_TAKES_US);
    this.#start = this.#board.take();
    this.#tree = tree;
  }

  get board(): ExploredBoard {
    return this.#board;
  }

  /** From the start along a sequence of actions. @throws Violation; Error when there is no action of such a name. */
  follow(names: readonly string[], tell = (_name: string) => {}): void {
    this.#board.put(this.#start);
    for (const [at, name] of names.entries()) {
      const action = [...actions, ...preparations].find((each) => each.name === name);
      if (action === undefined) throw new Error(`no action is called '${name}'`);
      try {
        if (!action.run(this.#board)) throw new Violation('it cannot be done');
      } catch (error) {
        if (!isViolation(error)) throw error;
        throw new Violation(`${error.message}\n${replayCommand(names.slice(0, at + 1))}`);
      }
      tell(name);
    }
  }

  /** Tries every action in the states of nodes `first` to `last` - 1. */
  expand(first: number, last: number): Found {
    const found: Found = { states: [], done: new Uint32Array(runState.options.length * actions.length) };
    const seen = new Set<bigint>();
    for (let node = first; node < last && found.violation === undefined; node++)
      this.#expandNode(node, seen, found);
    return found;
  }

  #expandNode(parent: number, seen: Set<bigint>, found: Found): void {
    const before = this.#reach(parent);
    this.#board.put(before);
    const from = this.#board.core.stateNow() * actions.length;
    const entries = this.#board.core.endSeqNow();
    let greeted: BoardState | undefined;
    for (const [action, { run, runGreeted }] of actions.entries()) {
      try {
        if (runGreeted !== undefined) greeted ??= this.#greeted(before);
        this.#board.put(runGreeted === undefined ? before : greeted!);
        if (!(runGreeted ?? run)(this.#board)) continue;
        found.done[from + action]!++;
        const hash = this.#board.fingerprint();
        if (seen.has(hash) || this.#tree.has(hash)) continue;
        seen.add(hash);
        found.states.push({ hash, parent, action, ...this.check(entries) });
      } catch (error) {
        if (!isViolation(error)) throw error;
        found.violation = { message: error.message, parent, action };
        return;
      }
    }
  }

  #greeted(before: BoardState): BoardState {
    this.#board.put(before);
    greet(this.#board);
    return this.#board.take();
  }

  #reach(node: number): BoardState {
    const depth = this.#tree.depthOf(node);
    const known = this.#way[depth];
    if (known?.node === node) return known.state;
    const parent = this.#tree.parentOf(node);
    if (parent < 0) return this.#begin(node, ~parent);
    this.#board.put(this.#reach(parent));
    actions[this.#tree.actionOf(node)]!.run(this.#board);
    const state = this.#board.take();
    this.#way[depth] = { node, state };
    return state;
  }

  #begin(node: number, beginning: number): BoardState {
    let state = this.#beginnings.get(node);
    if (state !== undefined) return state;
    this.follow(beginnings[beginning]!);
    state = this.#board.take();
    this.#beginnings.set(node, state);
    return state;
  }

  /** Holds the board's state against the invariants; the log had so many entries in the state before. */
  check(entriesBefore = 0): Omit<NewState, 'hash' | 'parent' | 'action'> {
    const { core } = this.#board;
    const [state, work, entries] = [core.stateNow(), core.jobNow(), core.endSeqNow()];
    const here = this.#board.take();
    checkSettled(this.#board, here);
    checkWayBack(this.#board, here);
    const promptsTried = checkPrompt(this.#board, here);
    const accountsChecked = entries === entriesBefore ? 0 : checkAccount(this.#board, here);
    return { state, job: work, promptsTried, accountsChecked };
  }
}

function isViolation(error: unknown): error is Error {
  return error instanceof Violation || error instanceof WebAssembly.RuntimeError;
}

export function replayCommand(names: readonly string[]): string {
  return `npm run soak -- --path '${names.join(', ')}'`;
}

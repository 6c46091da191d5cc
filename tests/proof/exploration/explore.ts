import { runState } from '../../../shared-protocol/schema.js';
import { actions, beginnings } from './actions.js';
import { type BoardState, ExploredBoard, Violation } from './explored-board.js';
import { checkAccount, checkPrompt, checkWayBack } from './invariants.js';

export interface Exploration {
  readonly states: number;
  readonly transitions: number;
  readonly depth: number;
  readonly promptsTried: number;
  readonly accountsChecked: number;
  readonly statesByName: Readonly<Record<string, number>>;
  /** The actions that could be done in no situation of a state of the evening. */
  readonly neverDone: Readonly<Record<string, readonly string[]>>;
}

/** How a state was reached: the action that led to it, from the state before. */
interface Path {
  readonly action: number;
  readonly before: Node;
}

/**
 * A state in the queue. Only every few steps is one kept whole, until the next such level stands; the others are reached
 * again from there.
 */
interface Node {
  readonly depth: number;
  readonly path: Path | undefined;
  state: BoardState | undefined;
}

const STEPS_BETWEEN_STATES = 3;
const STATES_BETWEEN_WORDS = 20_000;
const START_TAKES_US = 1_000_000;

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
 * Breadth first from a board just started: in each state every action is tried, and each state that is new by its
 * fingerprint is held against the invariants. Stops after `mostStates`.
 * @throws Violation with the command that goes the same way again.
 */
export function explore(
  module: WebAssembly.Module,
  mostStates: number,
  onProgress: OnProgress = () => {},
): Exploration {
  const board = startedBoard(module);
  const walk = new Walk(board);
  const start: Node = { depth: 0, path: undefined, state: board.take() };
  const seen = new Set<number>();
  let level = beginnings.map((names) => walk.follow(start, names, seen));
  let kept = level;
  let toldOf = 0;
  while (level.length > 0 && seen.size < mostStates) {
    const next: Node[] = [];
    for (const node of level) {
      if (seen.size >= mostStates) break;
      walk.expand(node, seen, next);
      if (seen.size < toldOf + STATES_BETWEEN_WORDS) continue;
      toldOf = seen.size;
      onProgress(seen.size, walk.depth);
    }
    if (next[0]?.state !== undefined) {
      for (const node of kept) node.state = undefined;
      kept = next;
    }
    level = next;
    walk.depth++;
  }
  const { transitions, depth, promptsTried, accountsChecked, statesByName, neverDone } = walk;
  return { states: seen.size, transitions, depth, promptsTried, accountsChecked, statesByName, neverDone };
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
  const board = startedBoard(module);
  const start: Node = { depth: 0, path: undefined, state: board.take() };
  const walk = new Walk(board);
  walk.follow(start, names, new Set(), (name) => tell(`${name}: ${board.words}`));
  walk.check(board.take(), start.state!);
}

function startedBoard(module: WebAssembly.Module): ExploredBoard {
  const board = new ExploredBoard(module);
  board.advanceUs(START_TAKES_US);
  return board;
}

class Walk {
  transitions = 0;
  depth = 0;
  promptsTried = 0;
  accountsChecked = 0;
  readonly statesByName: Record<string, number> = {};
  readonly #done: Record<string, Set<string>> = {};
  readonly #board: ExploredBoard;

  constructor(board: ExploredBoard) {
    this.#board = board;
  }

  get neverDone(): Record<string, string[]> {
    const missing = Object.entries(this.#done).map(([state, done]) => [
      state,
      actions.map(({ name }) => name).filter((name) => !done.has(name)),
    ]);
    return Object.fromEntries(missing);
  }

  /** The node that a sequence of actions leads to. */
  follow(start: Node, names: readonly string[], seen: Set<number>, tell = (_name: string) => {}): Node {
    this.#board.put(this.#reach(start));
    let path: Path | undefined;
    for (const name of names) {
      const action = actions.findIndex((each) => each.name === name);
      if (action < 0) throw new Error(`no action is called '${name}'`);
      path = { action, before: { depth: 0, path, state: undefined } };
      if (!actions[action]!.run(this.#board)) throw withPath(new Violation(`'${name}' cannot be done`), path);
      tell(name);
    }
    seen.add(this.#board.fingerprint());
    return { depth: 0, path, state: this.#board.take() };
  }

  /** Tries every action in the node's state; what is new is checked and added to `next`. */
  expand(node: Node, seen: Set<number>, next: Node[]): void {
    const state = this.#reach(node);
    for (let action = 0; action < actions.length; action++) {
      const path = { action, before: node };
      try {
        if (!this.#step(state, action, seen)) continue;
        const depth = node.depth + 1;
        const here = this.#board.take();
        next.push({ depth, path, state: depth % STEPS_BETWEEN_STATES === 0 ? here : undefined });
        this.check(here, state);
      } catch (error) {
        throw withPath(error, path);
      }
    }
  }

  /** True when the action led to a state not seen before. */
  #step(state: BoardState, action: number, seen: Set<number>): boolean {
    this.#board.put(state);
    const from = runState.options[this.#board.core.stateNow()]!;
    if (!actions[action]!.run(this.#board)) return false;
    this.transitions++;
    this.#done[from] ??= new Set();
    this.#done[from].add(actions[action]!.name);
    const before = seen.size;
    return seen.add(this.#board.fingerprint()).size > before;
  }

  #reach({ state, path }: Node): BoardState {
    if (state !== undefined) return state;
    this.#board.put(this.#reach(path!.before));
    actions[path!.action]!.run(this.#board);
    return this.#board.take();
  }

  /** Holds a state, reached from the one before, against the invariants. */
  check(state: BoardState, before: BoardState): void {
    const name = runState.options[this.#board.core.stateNow()]!;
    this.statesByName[name] = (this.statesByName[name] ?? 0) + 1;
    const entries = this.#board.core.endSeqNow();
    checkWayBack(this.#board, state);
    this.promptsTried += checkPrompt(this.#board, state);
    this.#board.put(before);
    if (this.#board.core.endSeqNow() === entries) return;
    checkAccount(this.#board, state);
    this.accountsChecked++;
  }
}

function withPath(error: unknown, path: Path): unknown {
  if (!(error instanceof Violation || error instanceof WebAssembly.RuntimeError)) return error;
  const names: string[] = [];
  for (let at: Path | undefined = path; at !== undefined; at = at.before.path)
    names.unshift(actions[at.action]!.name);
  return new Violation(`${error.message}\nnpm run soak -- --path '${names.join(', ')}'`);
}

import { boardWords, isCalled } from '../../board-words.js';
import { TreadleError } from '../../errors.js';
import { BoardLostError, NoBoardError, SeveralBoardsError } from '../errors.js';
import type { Board } from './board.js';
import { noPortAdvice } from './no-port-advice.js';
import { type OpenBoardOptions, openBoard } from './open-board.js';
import { listPorts, type PortFacts } from './serial-port.js';
import { isLikelyBoard } from './usb-facts.js';

/** Ports asked at most; more than any laptop has. */
const MOST_PORTS = 64;
/** How long a port is asked: a board that is up answers in milliseconds. */
const FINDING_MS = 1500;

export interface FoundBoard {
  readonly path: string;
  readonly boardId: string;
  /** What the printer calls it; empty where it has no name, or none that this version can ask for. */
  readonly name: string;
  readonly firmwareVersion: string;
  readonly protocol: number;
  readonly schemaHash: string;
}

/** A port, and the board there or why none is known to be; neither where it was left alone. */
export interface AskedPort {
  readonly path: string;
  readonly board?: FoundBoard;
  readonly trouble?: Error;
}

export interface FindOptions extends OpenBoardOptions {
  /** The ports to ask; left out, those that the operating system tells of. */
  readonly paths?: readonly string[];
  /** What the operating system tells of its ports; left out, it is asked. */
  readonly facts?: readonly PortFacts[];
}

/** Asks every port who is there, all at once. A board of another version counts; ports that stay silent do not. */
export async function askPorts(options: FindOptions = {}): Promise<AskedPort[]> {
  const paths = options.paths ?? (await factsOf(options)).map(({ path }) => path);
  return Promise.all(paths.slice(0, MOST_PORTS).map((path) => askPort(path, options)));
}

/**
 * Asks only the ports that are likely to be a board's own, and leaves the others alone: opening a port may disturb
 * what is there. Where none is likely, or none of those answers, every port is asked, since a board may be behind a
 * serial adapter.
 */
export async function askLikelyPorts(options: FindOptions = {}): Promise<AskedPort[]> {
  if (options.paths !== undefined) return askPorts(options);
  const facts = await factsOf(options);
  const likely = await askPorts({ ...options, paths: pathsOf(facts.filter(isLikelyBoard)) });
  const others = pathsOf(facts.filter((port) => !isLikelyBoard(port)));
  const isFound = likely.some(({ board }) => board !== undefined);
  return [
    ...likely,
    ...(isFound ? others.map((path) => ({ path })) : await askPorts({ ...options, paths: others })),
  ];
}

async function factsOf({ facts, ports }: FindOptions): Promise<readonly PortFacts[]> {
  return facts ?? (ports === undefined ? listPorts() : ports.list());
}

function pathsOf(facts: readonly PortFacts[]): string[] {
  return facts.map(({ path }) => path);
}

/**
 * Opens the only board there is.
 * @throws SeveralBoardsError when two or more answer, NoBoardError when none does, and what `openBoard` throws.
 */
export async function openOnlyBoard(options: FindOptions = {}): Promise<Board> {
  const asked = await askLikelyPorts(options);
  const boards = asked.flatMap(({ board }) => board ?? []);
  if (boards.length > 1) throw new SeveralBoardsError(boards);
  if (boards[0] === undefined) throw noneFound(asked);
  return openBoard(boards[0].path, options);
}

async function askPort(path: string, options: FindOptions): Promise<AskedPort> {
  try {
    const board = await openBoard(path, {
      ...options,
      timing: { ...options.timing, helloMs: FINDING_MS },
      acceptOtherVersion: true,
      setClock: false,
    });
    const { boardId, firmwareVersion, protocol, schemaHash } = board.welcome;
    const name = (await nameOf(board).finally(() => board.close())) ?? '';
    return { path, board: { path, boardId, name, firmwareVersion, protocol, schemaHash } };
  } catch (error) {
    options.signal?.throwIfAborted();
    return { path, trouble: error instanceof Error ? error : new Error(String(error)) };
  }
}

/** What the printer calls it, or undefined for a board that cannot say: who is there matters more. */
export async function nameOf(board: Board): Promise<string | undefined> {
  try {
    return board.mismatch === undefined ? await board.getName() : undefined;
  } catch (error) {
    if (error instanceof TreadleError && !(error instanceof BoardLostError)) return undefined;
    throw error;
  }
}

/**
 * The port of the board of that id, or that the printer calls so; capitals do not count.
 * @throws SeveralBoardsError when two are called so, NoBoardError when none is.
 */
export async function portOfBoard(called: string, options: FindOptions = {}): Promise<string> {
  const asked = await askLikelyPorts(options);
  const boards = asked.flatMap(({ board }) => board ?? []);
  const meant = boards.filter((board) => isCalled(board, called));
  if (meant.length > 1) throw new SeveralBoardsError(meant, called);
  if (meant[0] !== undefined) return meant[0].path;
  const there = boards.map(({ boardId, name }) => boardWords(boardId, name)).join(', ');
  throw new NoBoardError(
    `'${called}' is no serial port, and no board is called so: ${there === '' ? 'no board answered' : `there is ${there}`}`,
  );
}

function noneFound(asked: readonly AskedPort[]): NoBoardError {
  const outcomes = asked.map(({ path, trouble }) => ({ path, outcome: trouble?.message ?? 'silent' }));
  if (asked.length === 0) return new NoBoardError(`this computer has no serial port: ${noPortAdvice()}`);
  const list = outcomes.map(({ outcome }) => `  ${outcome}`).join('\n');
  return new NoBoardError(`no board answered at ${asked.length} port(s):\n${list}`, outcomes);
}

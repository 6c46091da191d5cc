import { type ErrorCode, errorCodes } from '../../shared-protocol/index.js';
import { boardWords } from '../board-words.js';
import { type FailureExitCode, TreadleError } from '../errors.js';
import type { NotedHolder } from './link/link-options.js';

/** No port of that name: plug in, or name another. */
export class PortNotFoundError extends TreadleError {
  override readonly name = 'PortNotFoundError';
  readonly exitCode = 3;
  constructor(readonly path: string) {
    super(
      `there is no serial port ${path}: is the board plugged in, by a cable that carries data, and powered? 'treadle ports' lists the ports there are`,
    );
  }
}

/** The operating system does not let this user open the port: `remedy` says how to be let. */
export class PortPermissionError extends TreadleError {
  override readonly name = 'PortPermissionError';
  readonly exitCode = 3;
  constructor(
    readonly path: string,
    readonly remedy: string,
  ) {
    super(`you may not open ${path}: ${remedy}`);
  }
}

/** Another program has the port: close it. */
export class PortBusyError extends TreadleError {
  override readonly name = 'PortBusyError';
  readonly exitCode = 3;
  constructor(
    readonly path: string,
    holders: string,
    /** Where it is one of treadle's own, and said so. */
    readonly holder?: NotedHolder,
  ) {
    super(`another program has ${path} open: ${holders}`);
  }
}

/** The port would not open for a reason of the operating system's own. */
export class PortFailedError extends TreadleError {
  override readonly name = 'PortFailedError';
  readonly exitCode = 3;
  constructor(
    readonly path: string,
    cause: Error,
    /** Why, where that is known, and what to do. */
    why = '',
  ) {
    super(why === '' ? `${path} could not be opened as a serial port: ${cause.message}` : `${path} ${why}`, {
      cause,
    });
  }
}

/** The native part of the package serialport could not be loaded: reinstall; all without a port still works. */
export class SerialUnavailableError extends TreadleError {
  override readonly name = 'SerialUnavailableError';
  readonly exitCode = 1;
  constructor(cause: unknown) {
    super(
      `serial ports cannot be used, because the package 'serialport' did not load (${
        cause instanceof Error ? cause.message.split('\n')[0] : cause
      }): run 'npm ci' again with this version of Node; the simulated board works without it`,
      { cause },
    );
  }
}

/** Something may be at the port, but no board said who it is. */
export class NoBoardError extends TreadleError {
  override readonly name = 'NoBoardError';
  readonly exitCode = 3;
  /** `asked` names each port that was asked, with what came of it. */
  constructor(
    message: string,
    readonly asked: readonly { readonly path: string; readonly outcome: string }[] = [],
  ) {
    super(message);
  }
}

/** Two or more boards answered: name one. */
export class SeveralBoardsError extends TreadleError {
  override readonly name = 'SeveralBoardsError';
  readonly exitCode = 2;
  /** @param called what all of them are called, where they were asked for by that */
  constructor(
    readonly boards: readonly { readonly path: string; readonly boardId: string; readonly name: string }[],
    called?: string,
  ) {
    const list = boards
      .map(({ path, boardId, name }) => `  ${path}  board ${boardWords(boardId, name)}`)
      .join('\n');
    super(
      called === undefined
        ? `${boards.length} boards answered; say which one is meant with --port, by its port, name or id:\n${list}`
        : `${boards.length} boards are called '${called}'; give the id of one with --port:\n${list}`,
    );
  }
}

export interface SpokenVersion {
  readonly protocol: number;
  readonly schemaHash: string;
  readonly version: string;
}

/** Laptop and board do not speak alike: update the side that is named; the log can be pulled all the same. */
export class VersionMismatchError extends TreadleError {
  override readonly name = 'VersionMismatchError';
  readonly exitCode = 1;
  readonly update: 'board' | 'laptop' | 'either';
  constructor(
    readonly laptop: SpokenVersion,
    readonly board: SpokenVersion,
  ) {
    const update = olderSide(laptop, board);
    super(mismatchWords(laptop, board, update));
    this.update = update;
  }
}

/** The board stopped answering, or its port went away. What it was doing at the lamp goes on without us. */
export class BoardLostError extends TreadleError {
  override readonly name = 'BoardLostError';
  readonly exitCode = 3;
  constructor(
    readonly path: string,
    readonly reason: string,
    cause?: unknown,
  ) {
    super(
      `the board at ${path} was lost: ${reason}. A print that runs goes on by the pedal; ` +
        `check plug and cable, then try again`,
      { cause },
    );
  }
}

/**
 * The board is there, and what it says cannot be right: a wrong kind of answer, another name than was asked for, more
 * than its flash holds. Asking again or connecting anew will not help; nothing was taken from such an answer.
 */
export class WrongAnswerError extends TreadleError {
  override readonly name = 'WrongAnswerError';
  readonly exitCode = 1;
  constructor(
    readonly path: string,
    /** The request that was answered so. */
    readonly request: string,
    /** What came, and why that is no answer. */
    readonly came: string,
  ) {
    super(
      `what is at ${path} does not answer as a board does: asked '${request}', ${came}. ` +
        "Take the board's power away and give it back; if it goes on, 'treadle flash --boot-button' puts its firmware " +
        "on it again; add '--trace FILE' to see what was said",
    );
  }
}

/** The board is there, but too little of what it says arrives whole. */
export class DamagedLineError extends TreadleError {
  override readonly name = 'DamagedLineError';
  readonly exitCode = 1;
  constructor(
    readonly path: string,
    /** What did not arrive, for 'the line damages so much that ...'. */
    readonly lacking: string,
  ) {
    super(
      `the line to the board at ${path} damages so much that ${lacking}: try another cable, away from the ` +
        "lamp's lead; 'treadle diagnose' counts what goes wrong",
    );
  }
}

/** What a board said no to, and why. */
export interface Refusal {
  /** The request that was refused. */
  readonly request: string;
  readonly code: ErrorCode;
  /** What the board said. */
  readonly text: string;
  /** What the request was about, if it names something. */
  readonly subject?: string | undefined;
  /** The schema's name of the field at fault, if it is one field, and the value given for it. */
  readonly field?: string | undefined;
  readonly given?: unknown;
  /** What is allowed, if the board told. */
  readonly low?: number | undefined;
  readonly high?: number | undefined;
}

/** The board understood and said no. */
export class RefusedError extends TreadleError {
  override readonly name = 'RefusedError';
  readonly exitCode: FailureExitCode;
  readonly request: string;
  readonly code: ErrorCode;
  readonly text: string;
  readonly field: string | undefined;
  readonly given: unknown;
  readonly low: number | undefined;
  readonly high: number | undefined;

  constructor(refusal: Refusal) {
    super(refusalWords(refusal));
    this.request = refusal.request;
    this.code = refusal.code;
    this.text = refusal.text;
    this.field = refusal.field;
    this.given = refusal.given;
    this.low = refusal.low;
    this.high = refusal.high;
    this.exitCode = this.code === 'bad-field' || this.code === 'not-found' ? 2 : 1;
  }
}

/** What was asked for cannot be sent to any board. */
export class InvalidRequestError extends TreadleError {
  override readonly name = 'InvalidRequestError';
  readonly exitCode = 2;
}

function olderSide(laptop: SpokenVersion, board: SpokenVersion): 'board' | 'laptop' | 'either' {
  const order =
    laptop.protocol - board.protocol ||
    laptop.version.localeCompare(board.version, 'en', { numeric: true, sensitivity: 'base' });
  if (order === 0) return 'either';
  return order > 0 ? 'board' : 'laptop';
}

const updateWords = {
  board: "The board is older: 'treadle flash' brings it up to this version",
  laptop: 'This laptop is older: install the version that the board has',
  either:
    'Both call themselves the same version but were built from different schemas: build them from this very copy, and run treadle flash with it',
} as const;

function mismatchWords(
  laptop: SpokenVersion,
  board: SpokenVersion,
  update: keyof typeof updateWords,
): string {
  const side = ({ version, protocol, schemaHash }: SpokenVersion) =>
    `${version} (protocol ${protocol}, schema ${schemaHash})`;
  return (
    `this laptop speaks treadle ${side(laptop)}, the board ${side(board)}. ${updateWords[update]}; ` +
    `'treadle info' shows both afterwards. Until then 'treadle collect' still saves the log`
  );
}

/** These name a recipe; what a printer then needs are the names there are. */
const recipeRequests = new Set(['recipe-get', 'recipe-remove']);

function refusalWords({ request, code, text, subject, field, given, low, high }: Refusal): string {
  if (code === 'not-found' && subject && recipeRequests.has(request))
    return `the board has no recipe '${subject}': 'treadle recipes' lists those that are kept on it`;
  const about = subject ? ` of '${subject}'` : '';
  const facts = [
    ...(field === undefined ? [] : [`${field} is ${JSON.stringify(given)}`]),
    ...(low === undefined || high === undefined ? [] : [`allowed is ${low} to ${high}`]),
  ];
  const detail = facts.length === 0 ? '' : ` (${facts.join(', ')})`;
  return `the board refused '${request}'${about}: ${text || errorCodes[code]}${detail}`;
}

import { type Clock, pause, systemClock } from '../../clock.js';
import { TreadleError } from '../../errors.js';
import { askLikelyPorts, type FindOptions } from '../link/find-boards.js';
import type { Welcome } from '../link/handshake.js';
import { openBoard } from '../link/open-board.js';
import type { FirmwareImage } from './firmware-image.js';
import { NotBackError } from './flash-errors.js';
import { bootButtonWords } from './write-to-drive.js';

const LOOK_MS = 500;
/** A board that is up answers in milliseconds. */
const HELLO_MS = 1500;
/** A board that is up for longer than since the writing, and this beside, did not start with what was written. */
const EARLIEST_MS = 60_000;

export interface ComeBackOptions extends FindOptions {
  /** The port that was named, if one was; the board is looked for everywhere else. */
  readonly port?: string | undefined;
  /** How the board was before; undefined where it was not spoken to. */
  readonly before?: Welcome | undefined;
  readonly waitMs: number;
}

/**
 * Waits until the board has come back and says the new version. Only that counts: a drive takes what it cannot use, too.
 * @throws NotBackError when it does not
 */
export async function awaitNewFirmware(image: FirmwareImage, options: ComeBackOptions): Promise<Welcome> {
  const clock: Clock = options.clock ?? systemClock;
  const writtenMs = clock.nowMs();
  const endMs = writtenMs + options.waitMs;
  let seen: Welcome | undefined;
  do {
    const heard = await lookForIt(options);
    const sinceMs = clock.nowMs() - writtenMs + EARLIEST_MS;
    if (heard !== undefined && isIt(heard, image, options.before, sinceMs)) return heard;
    seen = heard ?? seen;
    await pause(clock, LOOK_MS);
  } while (clock.nowMs() < endMs);
  throw notBack(image, options.before, seen);
}

/** At the port that was named, or wherever the system has it now: names change when a board comes back. */
async function lookForIt(options: ComeBackOptions): Promise<Welcome | undefined> {
  const { port, before } = options;
  const there = port === undefined ? undefined : await hear(port, options);
  if (there !== undefined) return there;
  const boards = (await askLikelyPorts(options)).flatMap(({ board }) => board ?? []);
  const wanted = before === undefined ? boards : boards.filter(({ boardId }) => boardId === before.boardId);
  const found = wanted[0] ?? boards[0];
  return found && hear(found.path, options);
}

async function hear(
  path: string,
  { port: _port, before: _before, waitMs: _waitMs, ...options }: ComeBackOptions,
) {
  try {
    const timing = { ...options.timing, helloMs: HELLO_MS };
    await using board = await openBoard(path, { ...options, acceptOtherVersion: true, timing });
    return board.welcome;
  } catch (error) {
    // Not there yet, not yet permitted, silent: all of it may pass.
    if (error instanceof TreadleError && error.exitCode === 3) return undefined;
    throw error;
  }
}

/** A board that was there all the time with that version, beside the one that was written to, is not it. */
function isIt(now: Welcome, image: FirmwareImage, before: Welcome | undefined, sinceMs: number): boolean {
  if (now.firmwareVersion !== image.version || now.schemaHash !== image.schemaHash) return false;
  if (before === undefined) return now.uptimeMs < sinceMs;
  const hasStarted = now.boot !== before.boot || now.uptimeMs < before.uptimeMs;
  return now.boardId === before.boardId && hasStarted;
}

function notBack(image: FirmwareImage, before: Welcome | undefined, seen: Welcome | undefined): NotBackError {
  if (seen === undefined)
    return new NotBackError(
      `all was written, but no board has come back to say that it is version ${image.version}. Give it its power ` +
        `anew and ask 'treadle info'. If it stays dark: ${bootButtonWords}`,
    );
  const { boardId, firmwareVersion, schemaHash } = seen;
  if (before !== undefined && boardId !== before.boardId)
    return new NotBackError(
      `all was written, but the board that answers is ${boardId}, and ${before.boardId} has not come back: plug that ` +
        "one in and ask 'treadle info'",
    );
  return new NotBackError(
    `all was written, but board ${boardId} has not started with it: it says version ${firmwareVersion} (schema ` +
      `${schemaHash}), and the image is ${image.version} (schema ${image.schemaHash}). The drive did not take it: try ` +
      `another cable, straight to the laptop. ${bootButtonWords}`,
  );
}

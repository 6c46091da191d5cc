import { pause } from '../../clock.js';
import { BoardLostError, RefusedError } from '../errors.js';
import type { Board } from '../link/board.js';
import { NotAllowedAtBoardError } from './flash-errors.js';

const POLL_MS = 300;
/** From the hand's turn until the board has left, with margin; and how long an answer may take if it has not. */
const LEAVING_MS = 1500;
const ANSWER_MS = 1000;

export interface Asking {
  /** The board's panel asks now. */
  readonly onAsked?: () => void;
  /** A hand has allowed it. */
  readonly onAllowed?: () => void;
}

/** The firmware on the board is from before boards could be asked. */
export class CannotBeAskedError extends NotAllowedAtBoardError {}

/**
 * Asks the board to make way for new firmware, and waits for the hand at its knob. Done when it has gone: the board
 * cannot be spoken to any more, and comes up as a drive.
 * @throws NotAllowedAtBoardError when it is refused or called off; nothing has changed then.
 */
export async function askTheHand(board: Board, { onAsked, onAllowed }: Asking = {}): Promise<void> {
  await begin(board);
  onAsked?.();
  try {
    for (;;) {
      const stands = await board.makingWay();
      if (stands === 'not-asked') throw calledOff();
      if (stands === 'leaving') break;
      await pause(board.clock, POLL_MS);
    }
    onAllowed?.();
    await seeItGo(board);
  } catch (error) {
    // Its port went with it.
    if (!(error instanceof BoardLostError)) throw error;
  }
}

/** A board on a line that has no plug to notice it just says no more: that is not waited for to its end. */
async function seeItGo(board: Board): Promise<void> {
  await pause(board.clock, LEAVING_MS);
  const patience = new AbortController();
  const cancel = board.clock.after(ANSWER_MS, () => patience.abort());
  try {
    if ((await board.makingWay({ signal: patience.signal })) === 'not-asked')
      throw (await hasStartedAnew(board)) ? becameNoDrive() : notStored();
  } catch (error) {
    if (!patience.signal.aborted) throw error;
  } finally {
    cancel();
  }
}

/** It goes on with the firmware that it has, and knows nothing of this conversation. */
async function hasStartedAnew(board: Board): Promise<boolean> {
  if (board.mismatch !== undefined) return false;
  try {
    return (await board.status()).boot !== board.welcome.boot;
  } catch (error) {
    if (error instanceof RefusedError) return error.code === 'not-allowed';
    throw error;
  }
}

async function begin(board: Board): Promise<void> {
  try {
    await board.askToMakeWay();
  } catch (error) {
    if (!(error instanceof RefusedError)) throw error;
    if (error.code === 'unknown-type' || isRefusedForVersions(error))
      throw new CannotBeAskedError('the firmware on the board is from before boards could be asked');
    throw new NotAllowedAtBoardError(
      `the board does not make way now, and goes on as it is: ${error.text}. Then run this again`,
    );
  }
}

/** What firmware of before says to whatever it does not know, when it speaks another schema. */
function isRefusedForVersions({ code, text }: RefusedError): boolean {
  return code === 'not-allowed' && text.startsWith('the versions differ');
}

function calledOff(): NotAllowedAtBoardError {
  return new NotAllowedAtBoardError(
    'it was called off at the board, or nobody turned the knob within 30 s: nothing was changed',
  );
}

function notStored(): NotAllowedAtBoardError {
  return new NotAllowedAtBoardError(
    'the board had something left to write and stayed as it is: nothing was changed; try again',
  );
}

/** A chip's own program makes it a drive whatever it has stored; what goes on at once has no such program. */
function becameNoDrive(): NotAllowedAtBoardError {
  return new NotAllowedAtBoardError(
    'the board started anew at once and became no drive: so does a simulated one, which has no drive to become. Nothing ' +
      "was changed. A real board that does this takes new firmware by its boot button: 'treadle flash --boot-button'",
  );
}

import { NoBoardError } from '../../board/errors.js';
import { askTheHand, CannotBeAskedError } from '../../board/flash/ask-the-hand.js';
import { findBootDrives } from '../../board/flash/boot-drive.js';
import type { FirmwareImage } from '../../board/flash/firmware-image.js';
import { BootDriveError } from '../../board/flash/flash-errors.js';
import type { Welcome } from '../../board/link/handshake.js';
import { counted } from '../../figures.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { collectAll } from '../board-log.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { remark } from '../terminal/print.js';
import { refuseOlder } from './image-file.js';

export interface FlashOptions extends BoardOptions {
  readonly archive?: string;
  readonly drive?: string;
  readonly bootButton?: true;
  readonly older?: true;
  readonly json?: true;
}

/** The board as it was, and what was saved of it. */
export interface Before {
  readonly welcome: Welcome;
  readonly path: string;
  readonly newRecords: number;
  readonly archive: string;
}

export interface SentAway {
  /** Undefined where no board answered. */
  readonly before: Before | undefined;
  /** False where it has to be done by the button on the board. */
  readonly isAway: boolean;
}

/** Saves the board's log and has it make way, where one answers that can be asked. */
export async function sendAway(image: FirmwareImage, options: FlashOptions): Promise<SentAway> {
  await refuseWhereOneWaits(options);
  const before = await saveLog(image, options).catch((error: unknown) => {
    if (!isSilent(error, options)) throw error;
    remark(`${error.message}.\nSo it goes by the button on the board.`);
    return undefined;
  });
  if (before === undefined) return { before, isAway: false };
  try {
    const port = options.port ?? before.path;
    await withBoard({ ...options, port }, ask, { acceptOtherVersion: true, setClock: false });
    return { before, isAway: true };
  } catch (error) {
    if (!(error instanceof CannotBeAskedError)) throw error;
    remark(`${error.message}: it goes by the button on it.`);
    return { before, isAway: false };
  }
}

function isSilent(error: unknown, { port }: FlashOptions): error is NoBoardError {
  return error instanceof NoBoardError && port === undefined;
}

/** Another board's drive could not be told from this one's. */
async function refuseWhereOneWaits({ drive }: FlashOptions): Promise<void> {
  const [found] = await findBootDrives({ folder: drive });
  if (found === undefined) return;
  throw new BootDriveError(
    `a board waits for new firmware at ${found} already: if it is the one that you mean, add --boot-button; if not, ` +
      'unplug it first, since drives do not say whose they are',
    2,
  );
}

async function saveLog(image: FirmwareImage, options: FlashOptions): Promise<Before> {
  await using archive = await openArchive(options.archive);
  let met: { readonly welcome: Welcome; readonly path: string } | undefined;
  const { report } = await collectAll(archive, options, ({ welcome, path }) => {
    if (!options.older) refuseOlder(image, welcome.firmwareVersion, 'the board has');
    met ??= { welcome, path };
  });
  remark(`${counted(report.added, 'new record')} of board ${report.board} saved in ${archive.file}.`);
  return { ...met!, newRecords: report.added, archive: archive.file };
}

function ask(board: Parameters<typeof askTheHand>[0]): Promise<void> {
  return askTheHand(board, {
    onAsked: () =>
      remark(
        `Board ${board.id} asks now: turn its knob three clicks to the right. Anything else calls it off, and so do 30 s.`,
      ),
    onAllowed: () => remark('It was turned: the board becomes a drive...'),
  });
}

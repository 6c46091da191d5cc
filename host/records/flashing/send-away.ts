import { NoBoardError } from '../../board/errors.js';
import { askTheHand, CannotBeAskedError } from '../../board/flash/ask-the-hand.js';
import { findBootDrives } from '../../board/flash/boot-drive.js';
import type { FirmwareImage } from '../../board/flash/firmware-image.js';
import { BootDriveError } from '../../board/flash/flash-errors.js';
import { refuseOlder } from '../../board/flash/look-over-image.js';
import type { Board } from '../../board/link/board.js';
import { stayConnected } from '../../board/link/stay-connected.js';
import { openMeant } from '../../board/open-meant.js';
import { counted } from '../../figures.js';
import { openArchive } from '../archive/file-archive.js';
import { collectEverything } from '../recipes/collect-everything.js';
import type { Before, FlashOptions, FlashTelling } from './flash-options.js';

export interface SentAway {
  /** Undefined where no board answered. */
  readonly before: Before | undefined;
  /** False where it has to be done by the button on the board. */
  readonly isAway: boolean;
}

/** Saves the board's log and has it make way, where one answers that can be asked. */
export async function sendAway(
  image: FirmwareImage,
  options: FlashOptions,
  telling: FlashTelling,
): Promise<SentAway> {
  await refuseWhereOneWaits(options);
  const before = await saveLog(image, options, telling).catch((error: unknown) => {
    if (!isSilent(error, options)) throw error;
    telling.say(`${error.message}.\nSo it goes by the button on the board.`);
    return undefined;
  });
  if (before === undefined) return { before, isAway: false };
  try {
    await using board = await openMeant(options.port ?? before.path, {
      ...options.opening,
      ...{ acceptOtherVersion: true, setClock: false },
    });
    await ask(board, telling);
    return { before, isAway: true };
  } catch (error) {
    if (!(error instanceof CannotBeAskedError)) throw error;
    telling.say(`${error.message}: it goes by the button on it.`);
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

async function saveLog(image: FirmwareImage, options: FlashOptions, telling: FlashTelling): Promise<Before> {
  await using archive = await openArchive(options.archive);
  const opening = { ...options.opening, acceptOtherVersion: true };
  const first = await openMeant(options.port, opening);
  const { welcome, path } = first;
  const collect = async (board: Board) => {
    if (!options.older) refuseOlder(image, board.welcome.firmwareVersion, 'the board has');
    const bar = telling.progress('entries');
    try {
      return await collectEverything(archive, board, bar.to);
    } finally {
      bar.stop();
    }
  };
  const { report } = await stayConnected(first, path, collect, {
    ...opening,
    onLost: ({ reason }) => telling.say(`Lost the board (${reason}); looking for it...`),
    onBack: (back) => telling.say(`It is back at ${back.path}; beginning again.`),
  });
  telling.say(`${counted(report.added, 'new record')} of board ${report.board} saved in ${archive.file}.`);
  return { welcome, path, newRecords: report.added, archive: archive.file };
}

function ask(board: Board, { say }: FlashTelling): Promise<void> {
  return askTheHand(board, {
    onAsked: () =>
      say(
        `Board ${board.id} asks now: turn its knob three clicks to the right. Anything else calls it off, and so do 30 s.`,
      ),
    onAllowed: () => say('It was turned: the board becomes a drive...'),
  });
}

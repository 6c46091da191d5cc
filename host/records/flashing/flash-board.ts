import { awaitBootDrive, mountingWords } from '../../board/flash/boot-drive.js';
import { awaitNewFirmware } from '../../board/flash/come-back.js';
import type { FirmwareImage } from '../../board/flash/firmware-image.js';
import { refuseOlder } from '../../board/flash/look-over-image.js';
import { writeToDrive } from '../../board/flash/write-to-drive.js';
import { laptopVersion } from '../../board/link/handshake.js';
import { counted } from '../../figures.js';
import type { Before, Flashed, FlashOptions, FlashTelling } from './flash-options.js';
import { type SentAway, sendAway } from './send-away.js';

/** A board that was told to make way is a drive within seconds; somebody with a button and a plug takes longer. */
const DRIVE_MS = 120_000;
const BUTTON_MS = 300_000;
const BACK_MS = 30_000;

const withoutAsking: SentAway = { before: undefined, isAway: false };

/**
 * Puts new firmware on the board. Nothing is written before the image is known to be right, the log saved, and a hand has
 * turned the knob.
 */
export async function flashBoard(
  image: FirmwareImage,
  options: FlashOptions,
  telling: FlashTelling,
): Promise<Flashed> {
  const { say } = telling;
  say(`Image: version ${image.version}, schema ${image.schemaHash}.`);
  warnOfOtherSchema(image, telling);
  const { before, isAway } = options.bootButton ? withoutAsking : await sendAway(image, options, telling);
  if (!isAway) holdTheButton(image, before, options, telling);
  const drive = await awaitBootDrive({
    folder: options.drive,
    waitMs: isAway ? DRIVE_MS : BUTTON_MS,
    onSlow: () =>
      say(
        `${options.drive === undefined ? 'No drive yet' : `${options.drive} is no board's drive yet`}. ` +
          "It comes by the board's own USB socket: is a data cable in it, and in this laptop? " +
          `If your system does not show drives by itself: ${mountingWords()}.`,
      ),
  });
  await write(drive, image, telling);
  say('All is written; waiting for the board to come back...');
  const now = await awaitNewFirmware(image, {
    ...options.opening,
    ...{ port: options.port, before: before?.welcome, waitMs: BACK_MS, setClock: false },
  });
  return { now, before };
}

/** The last that is told. */
export function flashedWords({ now, before }: Flashed): string {
  const saved = before ? `, ${counted(before.newRecords, 'new record')} of its log in ${before.archive}` : '';
  return `Board ${now.boardId} is back with version ${now.firmwareVersion}${saved}.`;
}

/** With another schema on it, this laptop can read the board's log and no more. */
function warnOfOtherSchema({ version, schemaHash }: FirmwareImage, { say }: FlashTelling): void {
  if (schemaHash === laptopVersion.schemaHash) return;
  say(
    `Caution: this copy of treadle (${laptopVersion.version}, schema ${laptopVersion.schemaHash}) will only be able to ` +
      `read the log of a board with it; install treadle ${version} as well.`,
  );
}

/** Without a board's answer there is no version to compare but this laptop's own. */
function holdTheButton(
  image: FirmwareImage,
  before: Before | undefined,
  { older }: FlashOptions,
  { say }: FlashTelling,
): void {
  if (!older && before === undefined) refuseOlder(image, laptopVersion.version, 'this copy of treadle is');
  say(
    'Unless the board waits as a drive already: switch the mains box off, take all power from the board, hold its ' +
      'boot button, plug its USB cable into the laptop, and let go. A drive named RPI-RP2 comes. What the board has ' +
      'stored stays on it.',
  );
}

async function write(drive: string, image: FirmwareImage, telling: FlashTelling): Promise<void> {
  telling.say(`Writing to ${drive}: do not unplug.`);
  const bar = telling.progress('bytes');
  try {
    await writeToDrive(drive, image, { onProgress: bar.to });
  } finally {
    bar.stop();
  }
}

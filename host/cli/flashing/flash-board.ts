import { awaitBootDrive, mountingWords } from '../../board/flash/boot-drive.js';
import { awaitNewFirmware } from '../../board/flash/come-back.js';
import type { FirmwareImage } from '../../board/flash/firmware-image.js';
import { writeToDrive } from '../../board/flash/write-to-drive.js';
import { laptopVersion, type Welcome } from '../../board/link/handshake.js';
import { counted } from '../../figures.js';
import { withTrace } from '../board-session.js';
import { print, printJson, remark } from '../terminal/print.js';
import { progress } from '../terminal/progress.js';
import { readImage, refuseOlder } from './image-file.js';
import { type Before, type FlashOptions, type SentAway, sendAway } from './send-away.js';

/** A board that was told to make way is a drive within seconds; somebody with a button and a plug takes longer. */
const DRIVE_MS = 120_000;
const BUTTON_MS = 300_000;
const BACK_MS = 30_000;

const withoutAsking: SentAway = { before: undefined, isAway: false };

/** Nothing is written before the image is known to be right, the log saved, and a hand has turned the knob. */
export async function flashBoard(file: string | undefined, options: FlashOptions): Promise<void> {
  const image = await readImage(file);
  remark(`Image: version ${image.version}, schema ${image.schemaHash}.`);
  warnOfOtherSchema(image);
  const { before, isAway } = options.bootButton ? withoutAsking : await sendAway(image, options);
  if (!isAway) holdTheButton(image, before, options);
  const drive = await awaitBootDrive({
    folder: options.drive,
    waitMs: isAway ? DRIVE_MS : BUTTON_MS,
    onSlow: () =>
      remark(
        `${options.drive === undefined ? 'No drive yet' : `${options.drive} is no board's drive yet`}. ` +
          "It comes by the board's own USB socket: is a data cable in it, and in this laptop? " +
          `If your system does not show drives by itself: ${mountingWords()}.`,
      ),
  });
  await writeWithBar(drive, image);
  remark('All is written; waiting for the board to come back...');
  const now = await withTrace(options.trace, (observed) =>
    awaitNewFirmware(image, {
      ...observed,
      ...{ port: options.port, before: before?.welcome, waitMs: BACK_MS, setClock: false },
    }),
  );
  tellDone(image, before, now, options);
}

/** With another schema on it, this laptop can read the board's log and no more. */
function warnOfOtherSchema({ version, schemaHash }: FirmwareImage): void {
  if (schemaHash === laptopVersion.schemaHash) return;
  remark(
    `Caution: this copy of treadle (${laptopVersion.version}, schema ${laptopVersion.schemaHash}) will only be able to ` +
      `read the log of a board with it; install treadle ${version} as well.`,
  );
}

/** Without a board's answer there is no version to compare but this laptop's own. */
function holdTheButton(image: FirmwareImage, before: Before | undefined, { older }: FlashOptions): void {
  if (!older && before === undefined) refuseOlder(image, laptopVersion.version, 'this copy of treadle is');
  remark(
    'Unless the board waits as a drive already: switch the mains box off, take all power from the board, hold its ' +
      'boot button, plug its USB cable into the laptop, and let go. A drive named RPI-RP2 comes. What the board has ' +
      'stored stays on it.',
  );
}

async function writeWithBar(drive: string, image: FirmwareImage): Promise<void> {
  remark(`Writing to ${drive}: do not unplug.`);
  const bar = progress('bytes');
  try {
    await writeToDrive(drive, image, { onProgress: bar.to });
  } finally {
    bar.stop();
  }
}

function tellDone(
  image: FirmwareImage,
  before: Before | undefined,
  now: Welcome,
  { json }: FlashOptions,
): void {
  const { boardId, firmwareVersion, schemaHash } = now;
  if (json) {
    const was = before?.welcome.firmwareVersion ?? null;
    const log = before && { archive: before.archive, newRecords: before.newRecords };
    printJson({ board: boardId, version: firmwareVersion, schemaHash, before: was, log: log ?? null });
    return;
  }
  const saved = before ? `, ${counted(before.newRecords, 'new record')} of its log in ${before.archive}` : '';
  print(`Board ${boardId} is back with version ${image.version}${saved}.`);
}

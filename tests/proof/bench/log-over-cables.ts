import type { Duplex } from 'node:stream';
import { openBoard } from '../../../host/board/link/open-board.js';
import { Timeline } from '../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../host/board/sim/virtual-time.js';
import { EmulatedBoard } from '../../firmware/board/rig/emulated-board.js';
import { buildImage } from '../../firmware/board/rig/image.js';
import { NorFlash } from '../../firmware/board/rig/nor-flash.js';
import { type Pull, pullLog, RecordLengths } from './log-pull.js';

const FRAMES_A_SECOND = 1000;
const FRAME_BYTES = 12_000_000 / 8 / FRAMES_A_SECOND;
const PACKET_BYTES = 64;
/** Token, headers, handshake and gaps of one packet (USB 2.0, section 5.8.4). */
const OVERHEAD_BYTES = 13;
export const packetsAFrame = Math.floor(FRAME_BYTES / (PACKET_BYTES + OVERHEAD_BYTES));
/** What bulk packets can carry at most where nothing else is on the bus. */
export const USB_BYTES_A_SECOND = packetsAFrame * PACKET_BYTES * FRAMES_A_SECOND;

/** Long enough for the firmware to start, and to be on the bus. */
const START_US = 200_000;

export type Plug = (board: EmulatedBoard) => Duplex;
export const uart: Plug = (board) => board.plug();
export const usb: Plug = (board) => board.usbCable.plug();

/** Pulls the log off the image on the emulated chip, over one of its cables: what wire and chip really take. */
export async function collectFromChip(storage: Uint8Array, plug: Plug): Promise<Pull> {
  const timeline = new Timeline();
  const flash = new NorFlash();
  flash.bytes.set(storage, flash.bytes.length - storage.length);
  const board = new EmulatedBoard({ image: buildImage(), flash, timeline });
  board.advanceUs(START_US);
  const port = plug(board);
  const lengths = new RecordLengths();
  const opening = openBoard(port, { clock: timelineClock(timeline), setClock: false });
  port.on('data', (bytes: Buffer) => lengths.hear(bytes));
  const laptop = await inVirtualTime(timeline, opening);
  const pull = await pullLog(timeline, laptop, lengths);
  await laptop.close();
  board.close();
  if (board.mistakes.length > 0) throw new Error(board.mistakes.join('; '));
  return pull;
}

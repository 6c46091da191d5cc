import { openBoard } from '../../../host/board/link/open-board.js';
import { Flash } from '../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { Timeline } from '../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../host/board/sim/virtual-time.js';
import { pause } from '../../../host/clock.js';
import { canBuildImages } from '../../firmware/board/rig/image.js';
import { Random } from '../../setup/random.js';
import { FaultyWire, silence } from '../world/faulty-wire.js';
import { collectFromChip, packetsAFrame, USB_BYTES_A_SECOND, uart, usb } from './log-over-cables.js';
import { isSameLog, type Pull, pullLog, RecordLengths } from './log-pull.js';
import { percent, type Section, thousands } from './page.js';

const EPOCH_MS = Date.UTC(2027, 2, 5, 20, 0, 0);
const ENTRIES = 1000;
/** No quicker than the flash takes them, sectors that are erased meanwhile included. */
const ENTRY_MS = 10;
const BITS_A_BYTE = 8;
/** Start bit, eight data bits, stop bit. */
const LINE_BITS_A_BYTE = 10;

/** A board with so many entries in its log: clock entries, the quickest way to fill one by the line. */
export async function filledFlash(entries: number): Promise<Uint8Array> {
  const timeline = new Timeline();
  const board = new SimulatedBoard({ flash: new Flash(), timeline });
  const clock = timelineClock(timeline, EPOCH_MS);
  const laptop = await inVirtualTime(timeline, openBoard(board.plug(), { clock }));
  const fill = async () => {
    for (let entry = 0; entry < entries; entry++) {
      await laptop.setClock();
      await pause(clock, ENTRY_MS);
    }
  };
  await inVirtualTime(timeline, fill(), 36_000_000);
  await laptop.close();
  board.advanceUs(5_000_000);
  const image = board.flash.image();
  board.close();
  return image;
}

/** Pulls the whole log over a line of that rate, on a virtual clock: what the wire would really take. */
async function collectOver(image: Uint8Array, baud: number, bitErrorRate: number): Promise<Pull> {
  const timeline = new Timeline();
  const flash = new Flash();
  flash.load(image);
  const board = new SimulatedBoard({ flash, timeline, baud });
  const wire = new FaultyWire(timeline, new Random(7), 0);
  const lengths = new RecordLengths();
  const stream = wire.connect(board.plug(), (bytes) => lengths.hear(bytes));
  const laptop = await inVirtualTime(
    timeline,
    openBoard(stream, { clock: timelineClock(timeline, EPOCH_MS), setClock: false }),
  );
  wire.noise = { ...silence, flipped: bitErrorRate * BITS_A_BYTE };
  const pull = await pullLog(timeline, laptop, lengths);
  await laptop.close();
  board.close();
  return pull;
}

type Row = (string | number)[];

function row(cable: string, errors: string | number, bytesASecond: number, pull: Pull, clean: Pull): Row {
  const { wireMs, payloadBytes, records } = pull;
  return [
    cable,
    errors,
    thousands(payloadBytes / (wireMs / 1000)),
    percent(payloadBytes / ((bytesASecond * wireMs) / 1000)),
    isSameLog(pull, clean) ? `all ${records.size}` : `NOT EXACT: ${records.size} of ${clean.records.size}`,
  ];
}

async function cableRows(image: Uint8Array, clean: Pull): Promise<Row[]> {
  if (!canBuildImages())
    return [['emulated chip: gcc-arm-none-eabi or wabt is not installed', '', '', '', '']];
  const overUart = await collectFromChip(image, uart);
  const overUsb = await collectFromChip(image, usb);
  return [
    row('emulated chip, UART, 115200 baud', 0, 115_200 / LINE_BITS_A_BYTE, overUart, clean),
    row('emulated chip, USB full speed', 'none', USB_BYTES_A_SECOND, overUsb, clean),
  ];
}

/** The log pulled over a paced, noisy wire: the share of the wire's bytes that were records, each counted once. */
export async function logCollection(): Promise<Section> {
  const image = await filledFlash(ENTRIES);
  const clean = await collectOver(image, 115_200, 0);
  const rows: Row[] = [];
  for (const baud of [115_200, 921_600])
    for (const bitErrorRate of [0, 1e-5, 1e-4]) {
      const pull = await collectOver(image, baud, bitErrorRate);
      rows.push(row(`${baud} baud`, bitErrorRate, baud / LINE_BITS_A_BYTE, pull, clean));
    }
  rows.push(...(await cableRows(image, clean)));
  return {
    title: 'Log pull',
    about:
      `${clean.records.size} entries over a paced line on a virtual clock, the real core and the real library. The limit is the rate / ${LINE_BITS_A_BYTE}; ` +
      'what counts is the bytes of records, each once. Goals: 95 % clean, 80 % at 1e-5, complete and exact at 1e-4. ' +
      `The last rows are the image on the emulated RP2040 with its processor's time; over USB the limit is ${thousands(USB_BYTES_A_SECOND)} bytes a second: ` +
      `${packetsAFrame} bulk packets of 64 bytes in each millisecond's frame (USB 2.0, section 5.8.4: 13 bytes go with each); the processor, which makes the lines, is what sets the pace there.`,
    columns: [
      'line',
      'bit error rate',
      'record bytes a second',
      "of the wire's limit",
      'entries complete and exact',
    ],
    rows,
  };
}

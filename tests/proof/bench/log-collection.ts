import { canBuildImages } from '../../firmware/board/rig/image.js';
import { collectFromChip, packetsAFrame, USB_BYTES_A_SECOND, uart, usb } from './log-over-cables.js';
import { collectOver, filledFlash, LINE_BITS_A_BYTE, shareOf } from './log-over-noise.js';
import { isSameLog, type Pull } from './log-pull.js';
import { percent, type Section, thousands } from './page.js';

const ENTRIES = 1000;
const ERROR_RATES = [0, 1e-5, 1e-4];
/** Of noise, for each line and rate of errors. */
const SEEDS = [1, 2, 3, 4, 5];
/** By rate and by `ERROR_RATES`: the same pulls by the library of commit 0a66e9e. */
const EARLIER: Readonly<Record<number, readonly string[]>> = {
  115200: ['98.5 %', '92.4 %', '57.1 %'],
  921600: ['98.3 %', '57.1 %', '21.1 %'],
};

type Row = (string | number)[];

interface Line {
  readonly name: string;
  readonly errors: string | number;
  readonly bytesASecond: number;
  readonly earlier: string;
}

function row({ name, errors, bytesASecond, earlier }: Line, pulls: readonly Pull[], clean: Pull): Row {
  const share = shareOf(bytesASecond, pulls);
  const wrong = pulls.find((pull) => !isSameLog(pull, clean));
  const complete = wrong
    ? `NOT EXACT: ${wrong.records.size} of ${clean.records.size}`
    : `all ${clean.records.size}`;
  return [name, errors, thousands(share * bytesASecond), percent(share), earlier, complete];
}

async function cableRows(image: Uint8Array, clean: Pull): Promise<Row[]> {
  if (!canBuildImages())
    return [['emulated chip: gcc-arm-none-eabi or wabt is not installed', '', '', '', '', '']];
  const overUart = await collectFromChip(image, uart);
  const overUsb = await collectFromChip(image, usb);
  const chip = 'emulated chip';
  const uartLine = { name: `${chip}, UART, 115200 baud`, errors: 0, bytesASecond: 11_520, earlier: '' };
  const usbLine = {
    name: `${chip}, USB full speed`,
    errors: 'none',
    bytesASecond: USB_BYTES_A_SECOND,
    earlier: '',
  };
  return [row(uartLine, [overUart], clean), row(usbLine, [overUsb], clean)];
}

/** The log pulled over a paced, noisy wire: the share of the wire's bytes that were records, each counted once. */
export async function logCollection(): Promise<Section> {
  const image = await filledFlash(ENTRIES);
  const clean = await collectOver(image, 115_200, 0);
  const rows: Row[] = [];
  for (const [rate, earlier] of Object.entries(EARLIER))
    for (const [place, errors] of ERROR_RATES.entries()) {
      const baud = Number(rate);
      const pulls: Pull[] = [];
      for (const seed of SEEDS) pulls.push(await collectOver(image, baud, errors, seed));
      const bytesASecond = baud / LINE_BITS_A_BYTE;
      rows.push(row({ name: `${baud} baud`, errors, bytesASecond, earlier: earlier[place]! }, pulls, clean));
    }
  rows.push(...(await cableRows(image, clean)));
  return {
    title: 'Log pull',
    about:
      `${clean.records.size} entries over a paced line on a virtual clock, the real core and the real library. The limit is the rate / ${LINE_BITS_A_BYTE}; ` +
      `what counts is the bytes of records, each once; figures are of ${SEEDS.length} pulls. Goals: 95 % clean, 85 % at 1e-5 and at 1e-4 (where nine lines of ten arrive whole), complete and exact. ` +
      `The last rows are the image on the emulated RP2040 with its processor's time; over USB the limit is ${thousands(USB_BYTES_A_SECOND)} bytes a second: ` +
      `${packetsAFrame} bulk packets of 64 bytes in each millisecond's frame (USB 2.0, section 5.8.4: 13 bytes go with each); the processor, which makes the lines, is what sets the pace there.`,
    columns: [
      'line',
      'bit error rate',
      'record bytes a second',
      "of the wire's limit",
      'by windows asked for whole and in turn, measured on 0a66e9e',
      'entries complete and exact',
    ],
    rows,
  };
}

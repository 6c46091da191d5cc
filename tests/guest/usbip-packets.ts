/**
 * USB/IP as Linux speaks it: Documentation/usb/usbip_protocol.rst of its sources, version 1.1.1. All numbers are big-endian, but
 * the eight bytes of a request, which are as on the bus.
 */
const VERSION = 0x0111;
const REQUEST_IMPORT = 0x8003;
const REPLY_IMPORT = 0x0003;
const SUBMIT = 1;
const UNLINK = 2;
const REPLY_SUBMIT = 3;
const REPLY_UNLINK = 4;
const HEADER_BYTES = 48;
const IMPORT_BYTES = 40;
const PATH_BYTES = 256;
const BUS_ID_BYTES = 32;
const FULL_SPEED = 2;
const NOT_AVAILABLE = 1;

/** What an answer says when it is not 0 (Linux, errno.h; Documentation/driver-api/usb/error-codes.rst). */
export const failure = { stalled: -32, unanswered: -71, babbled: -75, unlinked: -104 } as const;

/** A transfer that the far kernel asks for. */
export interface Submission {
  readonly kind: 'submit';
  readonly number: number;
  readonly isIn: boolean;
  readonly endpoint: number;
  readonly lengthBytes: number;
  /** Whether a transfer that fills its last packet ends with an empty one (URB_ZERO_PACKET). */
  readonly endsWithEmpty: boolean;
  readonly setup: Uint8Array;
  /** What is sent to the device. */
  readonly data: Uint8Array;
}

/** It does not want a transfer any more. */
export interface Unlinking {
  readonly kind: 'unlink';
  readonly number: number;
  readonly unlinked: number;
}

export type Command = Submission | Unlinking;

const IN = 1;
const ZERO_PACKET = 0x40;

/** The first whole command of `bytes` and how long it is, or nothing yet. */
export function readCommand(bytes: Buffer): { command: Command; lengthBytes: number } | undefined {
  if (bytes.length < HEADER_BYTES) return undefined;
  const kind = bytes.readUInt32BE(0);
  const number = bytes.readUInt32BE(4);
  if (kind === UNLINK)
    return {
      command: { kind: 'unlink', number, unlinked: bytes.readUInt32BE(20) },
      lengthBytes: HEADER_BYTES,
    };
  if (kind !== SUBMIT) throw new Error(`command ${kind} is not known to USB/IP`);
  const isIn = bytes.readUInt32BE(12) === IN;
  const lengthBytes = bytes.readInt32BE(24);
  const endBytes = HEADER_BYTES + (isIn ? 0 : lengthBytes);
  if (bytes.length < endBytes) return undefined;
  const command: Submission = {
    kind: 'submit',
    number,
    isIn,
    endpoint: bytes.readUInt32BE(16),
    lengthBytes,
    endsWithEmpty: (bytes.readUInt32BE(20) & ZERO_PACKET) !== 0,
    setup: Uint8Array.from(bytes.subarray(40, HEADER_BYTES)),
    data: Uint8Array.from(bytes.subarray(HEADER_BYTES, endBytes)),
  };
  return { command, lengthBytes: endBytes };
}

/** The answer to a transfer: `data` is what came from the device, `sentBytes` what it took. */
export function submitReply(of: Submission, status: number, data: Uint8Array, sentBytes: number): Buffer {
  const header = replyHeader(REPLY_SUBMIT, of.number);
  header.writeInt32BE(status, 20);
  header.writeInt32BE(of.isIn ? data.length : sentBytes, 24);
  return of.isIn ? Buffer.concat([header, data]) : header;
}

/** The answer to an unlinking: whether the transfer was still there to be taken back. */
export function unlinkReply(of: Unlinking, wasPending: boolean): Buffer {
  const header = replyHeader(REPLY_UNLINK, of.number);
  header.writeInt32BE(wasPending ? failure.unlinked : 0, 20);
  return header;
}

function replyHeader(kind: number, number: number): Buffer {
  const header = Buffer.alloc(HEADER_BYTES);
  header.writeUInt32BE(kind, 0);
  header.writeUInt32BE(number, 4);
  return header;
}

/** The bus id that an import asks for and how long the request is, or nothing yet. */
export function readImport(bytes: Buffer): { busId: string; lengthBytes: number } | undefined {
  if (bytes.length < IMPORT_BYTES) return undefined;
  const code = bytes.readUInt16BE(2);
  if (code !== REQUEST_IMPORT) throw new Error(`operation 0x${code.toString(16)} is no import`);
  const [busId] = bytes.toString('latin1', 8, IMPORT_BYTES).split('\0');
  return { busId: busId!, lengthBytes: IMPORT_BYTES };
}

export function importRefusal(): Buffer {
  const reply = Buffer.alloc(8);
  reply.writeUInt16BE(VERSION, 0);
  reply.writeUInt16BE(REPLY_IMPORT, 2);
  reply.writeUInt32BE(NOT_AVAILABLE, 4);
  return reply;
}

/** @param device the device's own descriptor (USB 2.0, section 9.6.1) */
export function importReply(busId: string, device: Uint8Array, interfaces: number): Buffer {
  const head = importRefusal();
  head.writeUInt32BE(0, 4);
  const names = Buffer.alloc(PATH_BYTES + BUS_ID_BYTES);
  names.write(`/emulated/${busId}`, 0, 'latin1');
  names.write(busId, PATH_BYTES, 'latin1');
  const [bus, number] = busId.split('-').map(Number);
  const place = Buffer.alloc(12);
  for (const [at, word] of [bus!, number!, FULL_SPEED].entries()) place.writeUInt32BE(word, 4 * at);
  const ids = Buffer.alloc(12);
  const little = (at: number) => device[at]! | (device[at + 1]! << 8);
  for (const [at, word] of [little(8), little(10), little(12)].entries()) ids.writeUInt16BE(word, 2 * at);
  ids.set([device[4]!, device[5]!, device[6]!, 0, device[17]!, interfaces], 6);
  return Buffer.concat([head, names, place, ids]);
}

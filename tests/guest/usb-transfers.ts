import type { UsbHost, Work } from '../firmware/board/rig/usb/host.js';
import { failure, type Submission } from './usbip-packets.js';

const PACKET_BYTES = 64;
/** A controller asks again at once; so often is soon enough for a kernel in an emulated computer. */
const IDLE_US = 200;
const SET_CONFIGURATION = 9;
const CLEAR_FEATURE = 1;
const TO_ENDPOINT = 2;

/** How a transfer ended; told once for each, unless it was taken back. */
export type Ended = (status: number, data: Uint8Array, sentBytes: number) => void;

interface Transfer {
  readonly submission: Submission;
  readonly ended: Ended;
  takenBack: boolean;
}

const nothing = new Uint8Array(0);

/**
 * What a host controller does with the transfers of its driver: those of one endpoint one after another, in packets, and a
 * device that has nothing or cannot take more just now (NAK) is asked again without end.
 */
export class UsbTransfers {
  readonly #host: UsbHost;
  readonly #waiting = new Map<number, Transfer[]>();
  #current = 0;

  constructor(host: UsbHost) {
    this.#host = host;
  }

  submit(submission: Submission, ended: Ended): void {
    const key = submission.endpoint | (submission.isIn && submission.endpoint > 0 ? 0x80 : 0);
    const queue = this.#waiting.get(key);
    const transfer = { submission, ended, takenBack: false };
    if (queue !== undefined) {
      queue.push(transfer);
      return;
    }
    const begun = [transfer];
    this.#waiting.set(key, begun);
    this.#host.begin(this.#serve(key, begun, this.#current));
  }

  /** Takes a transfer back; whether it was still there. */
  takeBack(number: number): boolean {
    for (const queue of this.#waiting.values())
      for (const transfer of queue) {
        if (transfer.submission.number !== number || transfer.takenBack) continue;
        transfer.takenBack = true;
        return true;
      }
    return false;
  }

  /** The device is gone: nothing that was asked for ends any more. */
  forget(): void {
    this.#current++;
    this.#waiting.clear();
  }

  *#serve(key: number, queue: Transfer[], current: number): Work<void> {
    while (this.#current === current && queue[0] !== undefined) {
      const transfer = queue[0];
      if (!transfer.takenBack) yield* this.#carryOut(key, transfer);
      if (this.#current === current) queue.shift();
    }
    if (this.#current === current) this.#waiting.delete(key);
  }

  #carryOut(key: number, transfer: Transfer): Work<void> {
    if (key === 0) return this.#control(transfer);
    return transfer.submission.isIn ? this.#receive(transfer) : this.#send(transfer);
  }

  *#receive(transfer: Transfer): Work<void> {
    const { endpoint, lengthBytes } = transfer.submission;
    const packets: Uint8Array[] = [];
    let gotBytes = 0;
    while (!transfer.takenBack) {
      const packet = yield* this.#host.poll(endpoint);
      if (this.#host.halted.has(endpoint | 0x80)) return end(transfer, failure.stalled);
      if (packet === undefined) {
        yield* this.#host.wait(IDLE_US);
        continue;
      }
      packets.push(packet);
      gotBytes += packet.length;
      if (gotBytes > lengthBytes) return end(transfer, failure.babbled);
      if (packet.length < PACKET_BYTES || gotBytes >= lengthBytes) break;
    }
    end(transfer, 0, Buffer.concat(packets));
  }

  *#send(transfer: Transfer): Work<void> {
    const { endpoint, data, endsWithEmpty } = transfer.submission;
    const fillsLast = data.length % PACKET_BYTES === 0 && (endsWithEmpty || data.length === 0);
    const endBytes = data.length + (fillsLast ? 1 : 0);
    for (let at = 0; at < endBytes && !transfer.takenBack; ) {
      const packet = data.subarray(at, at + PACKET_BYTES);
      const taken = yield* this.#host.send(endpoint, packet);
      if (this.#host.halted.has(endpoint)) return end(transfer, failure.stalled, nothing, at);
      if (taken) at += Math.max(1, packet.length);
      else yield* this.#host.wait(IDLE_US);
    }
    end(transfer, 0, nothing, data.length);
  }

  *#control(transfer: Transfer): Work<void> {
    const { setup, data } = transfer.submission;
    const word = (at: number) => setup[at]! | (setup[at + 1]! << 8);
    const outcome = yield* this.#host.control({
      type: setup[0]!,
      request: setup[1]!,
      value: word(2),
      index: word(4),
      length: word(6),
      data,
    });
    if (outcome.ended !== 'done') return end(transfer, failure[outcome.ended]);
    this.#heedRequest(setup);
    end(transfer, 0, outcome.bytes, data.length);
  }

  /** After these both sides begin with the even packet (USB 2.0, section 9.1.1.5 and 9.4.5). */
  #heedRequest([type, request, , , index]: Uint8Array): void {
    const isStandard = (type! & 0x60) === 0;
    if (isStandard && request === SET_CONFIGURATION) this.#host.forgetParities();
    if (type === TO_ENDPOINT && request === CLEAR_FEATURE) this.#host.forgetParity(index!);
  }
}

function end(transfer: Transfer, status: number, data: Uint8Array = nothing, sentBytes = 0): void {
  if (transfer.takenBack) return;
  transfer.takenBack = true;
  transfer.ended(status, data, sentBytes);
}

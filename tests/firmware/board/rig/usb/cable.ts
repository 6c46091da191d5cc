import { Duplex } from 'node:stream';
import type { Timeline } from '../../../../../host/board/sim/timeline.js';
import type { UsbController } from './controller.js';
import { type Outcome, type Request, UsbHost, type Work } from './host.js';

const DATA_ENDPOINT = 2;
const UNREAD_BYTES = 65_536;
const PACKET_BYTES = 64;
/** How long a laptop lets a device settle before it asks who is there (USB 2.0, section 7.1.7.3: 100 ms). */
const SETTLE_US = 100_000;
const POLL_IDLE_US = 200;

/** What a laptop's driver learnt of the device. */
export interface Found {
  readonly vendor: number;
  readonly product: number;
  readonly manufacturer: string;
  readonly name: string;
  readonly serial: string;
  readonly configuration: Uint8Array;
}

/** How the laptop at the other end behaves. */
export interface Laptop {
  /** Whether it says that a program opened the port; some never do. */
  readonly tellsReady?: boolean;
  /** Whether there is a hub between, with others behind it to whom the laptop talks all the time. */
  readonly isBehindBusyHub?: boolean;
  /** Whether a program opens the port by `open` only, not as soon as it is there. */
  readonly opensLater?: boolean;
  /** Whether it finds the board anew where a request fails, as laptops do; else that is an error of the test. */
  readonly triesAgain?: boolean;
}

/** Somebody else at the far end, who asks the bus through `host` what he wants. */
export interface FarEnd {
  /** The board came onto the bus: it may be asked from now on. */
  came(): void;
  /** It left the bus, or the cable was pulled: all work with it is void. */
  went(): void;
}

/** A USB cable to a laptop whose driver finds the board and opens its port, as `plug` promises it. */
export class UsbCable {
  readonly host: UsbHost;
  found: Found | undefined;
  /** A laptop that is on begins to give VBUS, or ends. */
  onPower: (there: boolean) => void = () => {};
  readonly #controller: () => UsbController;
  #laptop: Laptop = {};
  #port: Duplex | undefined;
  #waiting: { chunk: Buffer; done: () => void }[] = [];
  #plugged = false;
  #isSetUp = false;
  #isAsking = false;
  #farEnd: FarEnd | undefined;

  constructor(timeline: Timeline, controller: () => UsbController) {
    this.#controller = controller;
    this.host = new UsbHost(timeline, controller);
  }

  /** Whether a laptop that is on is plugged in. */
  get givesPower(): boolean {
    return this.#plugged;
  }

  /** Plugged in, with no board on the bus yet. */
  get awaitsBoard(): boolean {
    return this.#plugged && !this.#controller().attached;
  }

  /** Plugs the cable in, and gives the port that a program opens as soon as it is there. */
  plug(laptop: Laptop = {}): Duplex {
    this.unplug();
    this.#laptop = laptop;
    this.host.isBusy = laptop.isBehindBusyHub === true;
    this.#power(true);
    const port = this.#newPort();
    if (laptop.opensLater === true) this.#port = undefined;
    this.attachmentChanged(this.#controller().attached);
    return port;
  }

  /** Plugs the cable into another's socket: no laptop's driver is at work here. */
  plugInto(farEnd: FarEnd): void {
    this.unplug();
    this.#farEnd = farEnd;
    this.#power(true);
    this.attachmentChanged(this.#controller().attached);
  }

  /** The cable is pulled, or the laptop is switched off. */
  unplug(): void {
    this.#power(false);
    this.#lose();
    this.#farEnd = undefined;
    if (this.#controller().attached) this.host.suspend();
    this.host.stop();
    if (this.#controller().attached) this.#controller().suspendBus();
  }

  /** The program closes the port; the cable stays. */
  close(): void {
    this.#port?.destroy();
    this.#port = undefined;
    this.#waiting = [];
    if (this.#isSetUp && this.#laptop.tellsReady !== false)
      this.host.begin(this.#orAnew(this.#tellReady(false)));
  }

  /** A program opens the port again. */
  open(): Duplex {
    const port = this.#newPort();
    if (this.#isSetUp) this.host.begin(this.#orAnew(this.#openPort()));
    return port;
  }

  /** The laptop lets go of the board, resets its port and finds it again. */
  findAnew(): void {
    if (!this.#plugged || !this.#controller().attached) return;
    this.#lose();
    this.host.stop();
    this.attachmentChanged(true);
  }

  /** The board comes onto the bus, or leaves it. */
  attachmentChanged(attached: boolean): void {
    if (!this.#plugged) return;
    if (!attached) {
      this.#lose();
      this.host.stop();
      return;
    }
    this.host.start();
    if (this.#farEnd !== undefined) {
      this.#farEnd.came();
      return;
    }
    if (this.#port === undefined && this.#laptop.opensLater !== true) this.#newPort();
    this.host.begin(this.#orAnew(this.#find()));
  }

  /** The port of now, after the board was lost and came back by itself. */
  get port(): Duplex | undefined {
    return this.#port;
  }

  #power(there: boolean): void {
    this.#plugged = there;
    this.onPower(there);
  }

  #newPort(): Duplex {
    const port = new Duplex({
      readableHighWaterMark: UNREAD_BYTES,
      read: () => {},
      write: (chunk: Buffer, _encoding, done) => {
        this.#waiting.push({ chunk, done });
      },
    });
    this.#port = port;
    return port;
  }

  #lose(): void {
    this.#farEnd?.went();
    this.#isSetUp = false;
    this.#isAsking = false;
    this.found = undefined;
    this.#waiting = [];
    this.#port?.push(null);
    this.#port?.destroy();
    this.#port = undefined;
  }

  *#orAnew(work: Work<void>): Work<void> {
    try {
      yield* work;
    } catch (error) {
      if (this.#laptop.triesAgain !== true) throw error;
      yield* this.host.wait(SETTLE_US);
      this.findAnew();
    }
  }

  /** One request after another: there is one control pipe. */
  *#ask(request: Request): Work<Uint8Array> {
    while (this.#isAsking) yield* this.host.wait(POLL_IDLE_US);
    this.#isAsking = true;
    const outcome: Outcome = yield* this.host.control(request);
    this.#isAsking = false;
    if (outcome.ended !== 'done')
      throw new Error(`request ${request.request} of the laptop ${outcome.ended}`);
    return outcome.bytes;
  }

  /** As a laptop does it: a reset, who is there, an address, everything about it, the configuration. */
  *#find(): Work<void> {
    yield* this.host.wait(SETTLE_US);
    yield* this.host.resetBus();
    const head = yield* this.#ask(descriptor(1, 0, 64));
    if (head[7] !== PACKET_BYTES) this.host.mistakes.push(`control packets of ${head[7]} bytes`);
    yield* this.host.resetBus();
    yield* this.#ask({ type: 0, request: 5, value: 7 });
    this.host.address = 7;
    yield* this.host.wait(2000);
    const device = yield* this.#ask(descriptor(1, 0, 18));
    const short = yield* this.#ask(descriptor(2, 0, 9));
    const configuration = yield* this.#ask(descriptor(2, 0, short[2]! | (short[3]! << 8)));
    yield* this.#ask(descriptor(3, 0, 255));
    const texts: string[] = [];
    for (const at of [14, 15, 16]) {
      const bytes = yield* this.#ask(descriptor(3, device[at]!, 255));
      texts.push(Buffer.from(bytes.subarray(2)).toString('utf16le'));
    }
    yield* this.#ask({ type: 0, request: 9, value: 1 });
    this.found = {
      vendor: device[8]! | (device[9]! << 8),
      product: device[10]! | (device[11]! << 8),
      manufacturer: texts[0]!,
      name: texts[1]!,
      serial: texts[2]!,
      configuration,
    };
    this.#isSetUp = true;
    this.host.begin(this.#receive());
    this.host.begin(this.#send());
    if (this.#port !== undefined) yield* this.#openPort();
  }

  *#openPort(): Work<void> {
    const coding = Uint8Array.from([0, 0xc2, 1, 0, 0, 0, 8]);
    yield* this.#ask({ type: 0x21, request: 0x20, data: coding });
    if (this.#laptop.tellsReady !== false) yield* this.#tellReady(true);
  }

  *#tellReady(ready: boolean): Work<void> {
    yield* this.#ask({ type: 0x21, request: 0x22, value: ready ? 3 : 0 });
  }

  /** While no program has the port open, nobody asks for data. */
  *#receive(): Work<void> {
    for (;;) {
      const port = this.#port;
      if (port === undefined || port.readableLength >= UNREAD_BYTES) {
        yield* this.host.wait(POLL_IDLE_US);
        continue;
      }
      const bytes = yield* this.host.poll(DATA_ENDPOINT);
      if (bytes === undefined) yield* this.host.wait(POLL_IDLE_US);
      else if (bytes.length > 0) this.#port?.push(Buffer.from(bytes));
    }
  }

  *#send(): Work<void> {
    for (;;) {
      const next = this.#waiting[0];
      if (next === undefined) {
        yield* this.host.wait(POLL_IDLE_US);
        continue;
      }
      for (let at = 0; at < next.chunk.length && this.#waiting[0] === next; ) {
        const packet = next.chunk.subarray(at, at + PACKET_BYTES);
        if (yield* this.host.send(DATA_ENDPOINT, packet)) at += packet.length;
      }
      if (this.#waiting[0] === next) this.#waiting.shift();
      next.done();
    }
  }
}

function descriptor(type: number, index: number, length: number): Request {
  return {
    type: 0x80,
    request: 6,
    value: (type << 8) | index,
    index: type === 3 && index > 0 ? 0x409 : 0,
    length,
  };
}

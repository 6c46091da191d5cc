import type { Timeline } from '../../../../../host/board/sim/timeline.js';
import type { Answer, UsbController } from './controller.js';

/** Bytes of a bit-stuffed token, handshake and gaps, at 12 Mbit/s (USB 2.0, section 5.8.4 counts 13). */
const OVERHEAD_BYTES = 13;
const BITS_A_US = 12;
const FRAME_US = 1000;
/** A real host asks again at once; so often is enough to see what the device does. */
const NAK_PAUSE_US = 60;
/** Times that a transaction without an answer is tried (USB 2.0, section 10.2.6). */
const TRIES = 3;
/** What a control transfer may take (USB 2.0, section 9.2.6.1: 5 s; no device here needs a tenth of that). */
const CONTROL_LIMIT_US = 500_000;
const RESET_US = 10_000;
const RECOVERY_US = 10_000;
const PACKET_BYTES = 64;

export class UsbError extends Error {
  override readonly name = 'UsbError';
}

/** A request to the control endpoint. */
export interface Request {
  readonly type: number;
  readonly request: number;
  readonly value?: number;
  readonly index?: number;
  readonly length?: number;
  /** What is sent along; its length is `length` unless that is given too. */
  readonly data?: Uint8Array;
}

/** How a control transfer ended: with what the device gave, stalled, or left without an answer. */
export type Outcome =
  | { readonly ended: 'done'; readonly bytes: Uint8Array }
  | { readonly ended: 'stalled' | 'unanswered' };

/** How long a step has the bus, or how long its work has nothing for the bus and others may have it. */
type Step = { readonly busUs: number } | { readonly idleUs: number };
/** Work on the bus, a step at a time. */
export type Work<Result> = Generator<Step, Result, void>;

/** Damage on the bus, drawn by tests. */
export interface Damage {
  /** Whether the next packet of the device loses its acknowledgement. */
  losesAcknowledgement(): boolean;
  /** Whether the next packet of the host arrives damaged. */
  damagesPacket(): boolean;
}

export const noDamage: Damage = { losesAcknowledgement: () => false, damagesPacket: () => false };

/**
 * A host that keeps to the letter: frames, addresses, the parity of packets, retries, timeouts. What a device does
 * against the standard is an error, or stands in `mistakes`.
 */
export class UsbHost {
  readonly mistakes: string[] = [];
  damage: Damage = noDamage;
  /** Transactions on the bus so far. */
  transactions = 0;
  /** Called before each transaction, for tests that cut things off at every one of them. */
  onTransaction: (count: number) => void = () => {};
  address = 0;
  /** The device is behind a hub that repeats to it what goes to others. */
  isBusy = false;
  readonly #timeline: Timeline;
  readonly #controller: () => UsbController;
  /** Endpoints that said STALL, those of the way in with 0x80, until their parity is forgotten. */
  readonly halted = new Set<number>();
  readonly #odd = new Map<number, boolean>();
  readonly #latest = new Map<number, Uint8Array>();
  readonly #queue: { readonly work: Work<unknown>; readyUs: number }[] = [];
  #frame = 0;
  #awake = false;
  #stopped = true;
  #turn = 0;
  /** Counts the times that it was started or woken: what was planned before is void. */
  #run = 0;

  /** @param controller brings the chip up to this moment and gives the controller of now */
  constructor(timeline: Timeline, controller: () => UsbController) {
    this.#timeline = timeline;
    this.#controller = controller;
  }

  start(): void {
    if (!this.#stopped) return;
    this.#stopped = false;
    this.#awake = true;
    this.#goOn();
  }

  stop(): void {
    this.#stopped = true;
    this.#queue.length = 0;
    this.forgetParities();
    this.address = 0;
  }

  /** The bus sleeps: no frames, and after 3 ms the device knows (USB 2.0, section 7.1.7.6). */
  suspend(): void {
    this.#awake = false;
    this.#timeline.at(this.#timeline.nowUs + 3000, () => {
      if (!this.#awake && !this.#stopped) this.#controller().suspendBus();
    });
  }

  resume(): void {
    this.#controller().resumeBus();
    this.#awake = true;
    this.#goOn();
  }

  #goOn(): void {
    this.#run++;
    this.#nextFrame(this.#run);
    this.#next(0, this.#run);
  }

  /** Does `work` among everything else; the promise of virtual time is a callback. */
  begin<Result>(work: Work<Result>, done: (result: Result) => void = () => {}): void {
    const run = function* (): Work<void> {
      done(yield* work);
    };
    this.#queue.push({ work: run(), readyUs: 0 });
  }

  *wait(us: number): Work<void> {
    const untilUs = this.#timeline.nowUs + us;
    while (this.#timeline.nowUs < untilUs)
      yield { idleUs: Math.min(FRAME_US, untilUs - this.#timeline.nowUs) };
  }

  /** A reset, and the time that a device has to come out of it (USB 2.0, sections 7.1.7.5 and 7.1.7.3). */
  *resetBus(): Work<void> {
    this.#controller().resetBus();
    this.address = 0;
    this.forgetParities();
    yield* this.wait(RESET_US);
    this.#controller().endReset(this.isBusy);
    yield* this.wait(RECOVERY_US);
  }

  /** A control transfer (USB 2.0, section 8.5.3). */
  *control(request: Request): Work<Outcome> {
    const limitUs = this.#timeline.nowUs + CONTROL_LIMIT_US;
    const length = request.length ?? request.data?.length ?? 0;
    if (!(yield* this.#setup(setupBytes(request, length)))) return { ended: 'unanswered' };
    const isIn = (request.type & 0x80) !== 0 && length > 0;
    const bytes: number[] = [];
    let odd = true;
    if (isIn) {
      for (;;) {
        const said = yield* this.#in(0, odd, limitUs);
        if (typeof said === 'string') return yield* this.#ended(said, limitUs);
        bytes.push(...said);
        odd = !odd;
        if (bytes.length > length) this.mistakes.push(`${bytes.length} bytes came for ${length} asked for`);
        if (said.length < PACKET_BYTES || bytes.length >= length) break;
      }
    } else {
      const data = request.data ?? new Uint8Array(0);
      for (let at = 0; at < data.length; at += PACKET_BYTES) {
        const said = yield* this.#out(0, data.subarray(at, at + PACKET_BYTES), odd, limitUs);
        if (said !== 'done') return yield* this.#ended(said, limitUs);
        odd = !odd;
      }
    }
    const status = isIn
      ? yield* this.#out(0, new Uint8Array(0), true, limitUs)
      : yield* this.#in(0, true, limitUs);
    if (status === 'done') return done(bytes);
    if (typeof status === 'string') return yield* this.#ended(status, limitUs);
    if (status.length > 0) this.mistakes.push('a status stage that is not empty');
    return done(bytes);
  }

  /** What the control pipe stalled, it stalls until the next request (USB 2.0, section 8.5.3.4). */
  *#ended(how: 'stalled' | 'unanswered', limitUs: number): Work<Outcome> {
    if (how === 'stalled' && (yield* this.#in(0, true, limitUs)) !== 'stalled')
      this.mistakes.push('a control transfer went on after its stall');
    return { ended: how };
  }

  /** A packet from a bulk or interrupt endpoint, or nothing if there was none. */
  *poll(endpoint: number): Work<Uint8Array | undefined> {
    const key = endpoint | 0x80;
    const answer = yield* this.#transaction(PACKET_BYTES, (controller) =>
      controller.in(this.address, endpoint, !this.damage.losesAcknowledgement()),
    );
    if (answer.said === 'stall') this.halted.add(key);
    if (answer.said !== 'data') return undefined;
    if (this.halted.has(key)) this.mistakes.push(`endpoint ${endpoint} sent data after its stall`);
    if (answer.odd !== (this.#odd.get(key) ?? false)) {
      this.#lookAtRepeat(key, answer.bytes);
      return undefined;
    }
    this.#odd.set(key, !answer.odd);
    this.#latest.set(key, answer.bytes);
    return answer.bytes;
  }

  /** Offers a packet to a bulk endpoint; whether it was taken. */
  *send(endpoint: number, bytes: Uint8Array): Work<boolean> {
    const odd = this.#odd.get(endpoint) ?? false;
    const answer = yield* this.#transaction(bytes.length, (controller) => {
      if (this.damage.damagesPacket()) return { said: 'silent' };
      const said = controller.out(this.address, endpoint, bytes, odd);
      return this.damage.losesAcknowledgement() ? { said: 'silent' } : said;
    });
    if (answer.said === 'stall') this.halted.add(endpoint);
    if (answer.said !== 'ack') return false;
    if (this.halted.has(endpoint)) this.mistakes.push(`endpoint ${endpoint} took data after its stall`);
    this.#odd.set(endpoint, !odd);
    return true;
  }

  /** A device whose packet was not acknowledged sends it again (USB 2.0, section 8.6.4), and no other in its place. */
  #lookAtRepeat(key: number, bytes: Uint8Array): void {
    const latest = this.#latest.get(key);
    if (latest !== undefined && !Buffer.from(latest).equals(bytes))
      this.mistakes.push(`endpoint ${key & 0xf} sent another packet of the same parity`);
  }

  /** After a halt is cleared, both sides begin with the even packet. */
  forgetParity(endpoint: number): void {
    this.#odd.delete(endpoint);
    this.#latest.delete(endpoint);
    this.halted.delete(endpoint);
  }

  /** After a reset or another configuration, every endpoint begins anew. */
  forgetParities(): void {
    this.#odd.clear();
    this.#latest.clear();
    this.halted.clear();
  }

  *#setup(bytes: Uint8Array): Work<boolean> {
    for (let tries = 0; tries < TRIES; tries++) {
      const answer = yield* this.#transaction(bytes.length, (controller) =>
        this.damage.damagesPacket() ? { said: 'silent' } : controller.setup(this.address, bytes),
      );
      if (answer.said === 'ack') return true;
    }
    return false;
  }

  *#in(endpoint: number, odd: boolean, limitUs: number): Work<Uint8Array | 'stalled' | 'unanswered'> {
    for (let unanswered = 0; unanswered < TRIES && this.#timeline.nowUs < limitUs; ) {
      const acknowledged = !this.damage.losesAcknowledgement();
      const answer = yield* this.#transaction(PACKET_BYTES, (controller) =>
        controller.in(this.address, endpoint, acknowledged),
      );
      if (answer.said === 'stall') return 'stalled';
      if (answer.said === 'silent') unanswered++;
      if (answer.said === 'data' && answer.odd === odd) {
        if (acknowledged) return answer.bytes;
      } else if (answer.said === 'data') this.mistakes.push('a control packet of the wrong parity');
    }
    return 'unanswered';
  }

  *#out(
    endpoint: number,
    bytes: Uint8Array,
    odd: boolean,
    limitUs: number,
  ): Work<'done' | 'stalled' | 'unanswered'> {
    for (let unanswered = 0; unanswered < TRIES && this.#timeline.nowUs < limitUs; ) {
      const answer = yield* this.#transaction(bytes.length, (controller) =>
        this.damage.damagesPacket() ? { said: 'silent' } : controller.out(this.address, endpoint, bytes, odd),
      );
      if (answer.said === 'stall') return 'stalled';
      if (answer.said === 'silent') unanswered++;
      if (answer.said === 'ack') return 'done';
    }
    return 'unanswered';
  }

  *#transaction(bytes: number, act: (controller: UsbController) => Answer): Work<Answer> {
    this.transactions++;
    this.onTransaction(this.transactions);
    const answer = this.#heed(this.#stopped ? { said: 'silent' } : act(this.#controller()));
    const us = ((OVERHEAD_BYTES + bytes) * 8) / BITS_A_US;
    yield { busUs: answer.said === 'nak' ? us + NAK_PAUSE_US : us };
    return answer;
  }

  /** A packet longer than any may be is no packet (USB 2.0, section 8.7.4, babble). */
  #heed(answer: Answer): Answer {
    if (answer.said !== 'data' || answer.bytes.length <= PACKET_BYTES) return answer;
    this.mistakes.push(`a packet of ${answer.bytes.length} bytes: the device babbles`);
    return { said: 'silent' };
  }

  #nextFrame(run: number): void {
    if (!this.#awake || this.#stopped || run !== this.#run) return;
    this.#frame = (this.#frame + 1) & 0x7ff;
    this.#controller().frame(this.#frame);
    this.#timeline.at(this.#timeline.nowUs + FRAME_US, () => this.#nextFrame(run));
  }

  /** One step of the work whose turn it is. */
  #next(pauseUs: number, run: number): void {
    this.#timeline.at(this.#timeline.nowUs + Math.max(1, pauseUs), () => {
      if (this.#stopped || !this.#awake || run !== this.#run) return;
      const turn = this.#takeTurn();
      if (turn === undefined) return this.#next(this.#idleUs(), run);
      const { done, value } = turn.work.next();
      const place = this.#queue.indexOf(turn);
      if (done && place >= 0) this.#queue.splice(place, 1);
      if (done) return this.#next(1, run);
      if ('idleUs' in value) turn.readyUs = this.#timeline.nowUs + value.idleUs;
      this.#next('busUs' in value ? value.busUs : 0, run);
    });
  }

  /** The next in turn that is not idle. */
  #takeTurn() {
    for (let tries = 0; tries < this.#queue.length; tries++) {
      const turn = this.#queue[this.#turn++ % this.#queue.length]!;
      if (turn.readyUs <= this.#timeline.nowUs) return turn;
    }
    return undefined;
  }

  #idleUs(): number {
    const readyUs = this.#queue.map((turn) => turn.readyUs);
    return Math.min(FRAME_US, ...readyUs.map((us) => us - this.#timeline.nowUs));
  }
}

function done(bytes: readonly number[]): Outcome {
  return { ended: 'done', bytes: Uint8Array.from(bytes) };
}

function setupBytes({ type, request, value = 0, index = 0 }: Request, length: number): Uint8Array {
  const low = (word: number) => [word & 0xff, (word >> 8) & 0xff];
  return Uint8Array.from([type, request, ...low(value), ...low(index), ...low(length)]);
}

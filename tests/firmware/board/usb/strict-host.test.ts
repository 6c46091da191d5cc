import { RP2040 } from 'rp2040js';
import { expect, test } from 'vitest';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { Random } from '../../../setup/random.js';
import { clockOf } from '../rig/clock.js';
import { UsbController } from '../rig/usb/controller.js';
import { type Outcome, type Request, UsbHost, type Work } from '../rig/usb/host.js';

/** RP2040 datasheet section 4.1.2.5 and 4.1.4. */
const MEMORY = 0x5010_0000;
const BUFF_STATUS = 0x58;
const BUFF_CPU_SHOULD_HANDLE = 0x5c;
const EP_STALL_ARM = 0x68;
const FULL = 1 << 15;
const ODD = 1 << 13;
const STALL = 1 << 11;
const AVAILABLE = 1 << 10;
const SINGLE = (1 << 31) | (1 << 29) | (2 << 26);
const DOUBLE = SINGLE | (1 << 30);
const EVERY_SECOND = (SINGLE & ~(1 << 29)) | (1 << 30) | (1 << 28);
const IN = 2;
const OUT = 3;
const PACKET_BYTES = 64;
const BUFFERS = { [IN]: 0x180, [OUT]: 0x280 } as const;

/** A controller whose firmware is the test, by hand, at a strict host: it may do everything wrong. */
class ByHand {
  readonly chip = new RP2040();
  readonly usb = new UsbController(this.chip);
  readonly timeline = new Timeline();
  readonly host = new UsbHost(this.timeline, () => this.usb);

  constructor() {
    Object.defineProperty(this.chip, 'usbCtrl', { value: this.usb });
    this.usb.staysInReset = false;
    this.usb.writeUint32(0x74, 9);
    this.usb.writeUint32(0x40, 1);
    this.usb.writeUint32(0x4c, (1 << 16) | (1 << 29));
    this.host.start();
  }

  get mistakes(): string[] {
    return [...this.usb.mistakes, ...this.host.mistakes];
  }

  open(number: 2 | 3, control: number): void {
    this.chip.writeUint32(MEMORY + 4 * number, control | BUFFERS[number]);
  }

  word(number: number): number {
    return this.chip.readUint32(MEMORY + 0x80 + 4 * number);
  }

  write(number: number, word: number): void {
    this.chip.writeUint32(MEMORY + 0x80 + 4 * number, word >>> 0);
    clockOf(this.chip).tick(1000);
  }

  /** As the firmware should: the word first, and AVAILABLE after it. */
  arm(number: number, word: number, half: 0 | 1 = 0): void {
    const other = this.word(number) & (0xffff << (16 * (1 - half)));
    this.write(number, other | (word << (16 * half)));
    this.write(number, other | ((word | AVAILABLE) << (16 * half)));
  }

  give(text: string, odd: boolean, half: 0 | 1 = 0): void {
    for (const [at, byte] of Buffer.from(text).entries())
      this.chip.usbDPRAMView.setUint8(BUFFERS[IN] + PACKET_BYTES * half + at, byte);
    this.arm(IN, FULL | (odd ? ODD : 0) | text.length, half);
  }

  /** Begins work and lets time go on until it has ended. */
  run<Result>(work: Work<Result>): Result | undefined {
    const ended: Result[] = [];
    this.host.begin(work, (value) => ended.push(value));
    for (let waitedUs = 0; ended.length === 0 && waitedUs < 10_000; waitedUs += 10)
      this.timeline.runUntil(this.timeline.nowUs + 10);
    return ended[0];
  }

  /** Begins a control transfer, and stops where the request has been heard. */
  ask(request: Request): () => Outcome | undefined {
    let outcome: Outcome | undefined;
    const before = this.host.transactions;
    const work = this.host.control(request);
    this.host.begin(work, (ended) => {
      outcome = ended;
    });
    while (this.host.transactions === before) this.timeline.runUntil(this.timeline.nowUs + 10);
    return () => {
      this.timeline.runUntil(this.timeline.nowUs + 10_000);
      return outcome;
    };
  }

  /** What the host takes when it asks once. */
  poll(): string | undefined {
    const bytes = this.run(this.host.poll(1));
    return bytes === undefined ? undefined : Buffer.from(bytes).toString();
  }

  send(text: string): boolean | undefined {
    return this.run(this.host.send(1, Buffer.from(text)));
  }

  /** The number of the half that is done, once it is heeded. */
  heed(number: number): 0 | 1 | undefined {
    const bit = 1 << number;
    if ((this.usb.readUint32(BUFF_STATUS) & bit) === 0) return undefined;
    const half = this.usb.readUint32(BUFF_CPU_SHOULD_HANDLE) & bit ? 1 : 0;
    this.usb.writeUint32(BUFF_STATUS, bit);
    return half;
  }
}

// How a pair works: section 4.1.2.7 from memory; the two halves of a buffer's word as in the vendor's usb_dpram.h.
test('a pair of buffers is sent one after the other, and the firmware is told of each', () => {
  const hand = new ByHand();
  hand.open(IN, DOUBLE);
  hand.give('one', false, 0);
  hand.give('two', true, 1);
  expect([hand.poll(), hand.poll(), hand.poll()]).toEqual(['one', 'two', undefined]);
  expect([hand.heed(IN), hand.heed(IN), hand.heed(IN)]).toEqual([0, 1, undefined]);
  hand.give('three', false, 0);
  expect([hand.poll(), hand.heed(IN)]).toEqual(['three', 0]);
  expect(hand.mistakes).toEqual([]);
});

test('of a pair that is filled the wrong way round, nothing is sent before its turn', () => {
  const hand = new ByHand();
  hand.open(IN, DOUBLE);
  hand.give('second', true, 1);
  expect(hand.poll()).toBeUndefined();
  hand.give('first', false, 0);
  expect([hand.poll(), hand.poll()]).toEqual(['first', 'second']);
});

test('a pair receives one after the other, and a third packet waits', () => {
  const hand = new ByHand();
  hand.open(OUT, DOUBLE);
  hand.arm(OUT, PACKET_BYTES, 0);
  hand.arm(OUT, PACKET_BYTES | ODD, 1);
  expect([hand.send('one'), hand.send('two'), hand.send('three')]).toEqual([true, true, false]);
  expect([hand.heed(OUT), hand.heed(OUT)]).toEqual([0, 1]);
  expect(hand.word(OUT) & 0x3ff).toBe(3);
  const text = (half: number) =>
    Buffer.from(hand.chip.usbDPRAM.subarray(BUFFERS[OUT] + PACKET_BYTES * half).subarray(0, 3)).toString();
  expect([text(0), text(1)]).toEqual(['one', 'two']);
  expect(hand.mistakes).toEqual([]);
});

test('a pair that tells only of its second tells only of its second', () => {
  const hand = new ByHand();
  hand.open(IN, EVERY_SECOND);
  hand.give('one', false, 0);
  hand.give('two', true, 1);
  expect([hand.poll(), hand.heed(IN), hand.poll(), hand.heed(IN)]).toEqual(['one', undefined, 'two', 1]);
});

test.for([1, 2, 3])(
  'pairs lose and double nothing while packets and acknowledgements are lost (seed %i)',
  (seed) => {
    const hand = new ByHand();
    const random = new Random(seed);
    hand.host.damage = {
      losesAcknowledgement: () => random.below(4) === 0,
      damagesPacket: () => random.below(4) === 0,
    };
    hand.open(IN, DOUBLE);
    const free: (0 | 1)[] = [0, 1];
    const heard: string[] = [];
    for (let sent = 0, polls = 0; heard.length < 60 && polls < 400; polls++) {
      const half = free[0];
      if (half !== undefined) {
        hand.give(`line ${sent}`, sent % 2 === 1, half);
        free.shift();
        sent++;
      }
      const text = hand.poll();
      if (text !== undefined) heard.push(text);
      const done = hand.heed(IN);
      if (done !== undefined) free.push(done);
    }
    expect(heard).toEqual(Array.from({ length: 60 }, (_, index) => `line ${index}`));
    expect(hand.mistakes).toEqual([]);
  },
);

test('a packet longer than a packet may be is no packet, and the device babbles', () => {
  const hand = new ByHand();
  hand.open(IN, SINGLE);
  hand.give('x'.repeat(PACKET_BYTES + 1), false);
  expect(hand.poll()).toBeUndefined();
  expect(hand.mistakes).toEqual(['a packet of 65 bytes: the device babbles']);
});

test('a device that gives more than was asked for is told off', () => {
  const hand = new ByHand();
  const end = hand.ask({ type: 0x80, request: 6, value: 0x100, length: 8 });
  hand.arm(0, FULL | ODD | 18);
  end();
  expect(hand.mistakes).toContain('18 bytes came for 8 asked for');
});

test('another packet of the same parity is taken for a repeat by every host, and found out by this one', () => {
  const hand = new ByHand();
  hand.open(IN, SINGLE);
  hand.give('one', false);
  hand.poll();
  hand.give('one', false);
  expect(hand.poll()).toBeUndefined();
  expect(hand.mistakes).toEqual([]);
  hand.give('two', false);
  expect(hand.poll()).toBeUndefined();
  expect(hand.mistakes).toEqual(['endpoint 1 sent another packet of the same parity']);
});

test('a control packet of the wrong parity is a mistake', () => {
  const hand = new ByHand();
  const end = hand.ask({ type: 0x80, request: 0, length: 2 });
  hand.arm(0, FULL | 2);
  expect(end()).toBeUndefined();
  expect(hand.mistakes).toContain('a control packet of the wrong parity');
});

test('a halted endpoint that goes on without being released is found out', () => {
  const hand = new ByHand();
  hand.open(IN, SINGLE);
  hand.open(OUT, SINGLE);
  hand.write(IN, STALL);
  hand.write(OUT, STALL);
  expect([hand.poll(), hand.send('no')]).toEqual([undefined, false]);
  hand.give('all the same', false);
  hand.arm(OUT, PACKET_BYTES);
  hand.poll();
  hand.send('yes');
  expect(hand.mistakes).toEqual([
    'endpoint 1 sent data after its stall',
    'endpoint 1 took data after its stall',
  ]);
  hand.host.forgetParity(0x81);
  hand.give('released', false);
  expect(hand.poll()).toBe('released');
  expect(hand.mistakes).toHaveLength(2);
});

test('a control transfer that goes on after its stall is found out', () => {
  const hand = new ByHand();
  const end = hand.ask({ type: 0x80, request: 6, value: 0x900, length: 8 });
  hand.usb.writeUint32(EP_STALL_ARM, 3);
  hand.write(0, STALL);
  hand.host.onTransaction = () => {
    hand.host.onTransaction = () => hand.arm(0, FULL | ODD | 8);
  };
  expect(end()).toEqual({ ended: 'stalled' });
  expect(hand.mistakes).toEqual(['a control transfer went on after its stall']);
});

test.for([
  ['single', SINGLE],
  ['of a pair', DOUBLE],
])('a buffer, %s, that is made available twice is found out', ([_name, control]) => {
  const hand = new ByHand();
  hand.open(IN, Number(control));
  hand.give('one', false);
  hand.write(IN, FULL | ODD | AVAILABLE | 5);
  expect(hand.mistakes).toEqual(['USB buffer word 0x88 was made available twice']);
});

test('a buffer that is made available in one step with its length is found out', () => {
  const hand = new ByHand();
  hand.open(OUT, SINGLE);
  hand.write(OUT, AVAILABLE | PACKET_BYTES);
  expect(hand.mistakes).toEqual(['USB buffer word 0x8c was made available before it had settled']);
});

import type { Duplex } from 'node:stream';
import { PortBusyError, PortNotFoundError } from '../../../host/board/errors.js';
import type { Board } from '../../../host/board/link/board.js';
import { openOnlyBoard } from '../../../host/board/link/find-boards.js';
import type { OpenBoardOptions } from '../../../host/board/link/open-board.js';
import type { PortFacts, Ports } from '../../../host/board/link/serial-port.js';
import type { Timeline } from '../../../host/board/sim/timeline.js';
import type { Found, UsbCable } from '../../firmware/board/rig/usb/cable.js';
import { noDamage } from '../../firmware/board/rig/usb/host.js';
import type { Random } from '../../setup/random.js';
import type { FaultKind } from './faults.js';
import { FaultyWire, silence } from './faulty-wire.js';
import type { LineSetup, WorldLine } from './world-line.js';

const BABBLE_US = 500_000;
const LONGEST_UNPLUGGED_US = 1_500_000;
const LONGEST_SLEEP_US = 3_000_000;
const LONGEST_PART_BYTES = 60;

/**
 * A USB cable to a laptop: what arrives is whole, but the port goes whenever the board does, and comes back by a name of the
 * laptop's choice.
 */
export class UsbLine implements WorldLine {
  readonly #cable: UsbCable;
  readonly #timeline: Timeline;
  readonly #random: Random;
  readonly #setup: LineSetup;
  readonly #wire: FaultyWire;
  readonly #ports: Ports;
  /** The program's end of the port that it holds. */
  #held: Duplex | undefined;
  #named: { readonly found: Found; readonly path: string } | undefined;
  #isAsleep = false;
  /** Counts what was done to the cable: what was planned before is void. */
  #hands = 0;

  constructor(cable: UsbCable, timeline: Timeline, random: Random, setup: LineSetup) {
    this.#cable = cable;
    this.#timeline = timeline;
    this.#random = random;
    this.#setup = setup;
    this.#wire = new FaultyWire(timeline, random, 0);
    this.#wire.noise = { ...silence, delayed: setup.climate.noise.delayed };
    this.#ports = {
      list: async () => this.#facts(),
      open: async (path) => this.#openPort(path),
    };
    this.#plug();
  }

  get accidents() {
    const { delayed } = this.#wire.accidents;
    return { delayed };
  }

  open(options: OpenBoardOptions): Promise<Board> {
    return openOnlyBoard({ ...options, ports: this.#ports });
  }

  programEnds(): void {
    this.#wire.pull();
  }

  strike(kind: FaultKind): boolean {
    if (kind === 'cable pulled') this.#pullOut();
    else if (kind === 'port reset') this.#cable.findAnew();
    else if (kind === 'laptop asleep') this.#sleep();
    else if (kind === 'port closed in mid-line') this.#wire.breakOff(this.#random.below(LONGEST_PART_BYTES));
    else if (kind === 'babble on the line') this.#losePackets();
    else return false;
    return true;
  }

  makeWell(): void {
    this.#hands++;
    this.#wire.noise = silence;
    this.#wire.breakOff(undefined);
    this.#cable.host.damage = noDamage;
    this.#plug();
  }

  #plug(): void {
    this.#isAsleep = false;
    this.#cable.plug({ opensLater: true, triesAgain: true });
  }

  /** What is planned comes about unless somebody does something else with the cable before. */
  #later(longestUs: number, act: () => void): void {
    const hand = ++this.#hands;
    this.#timeline.at(this.#timeline.nowUs + 1 + this.#random.below(longestUs), () => {
      if (hand === this.#hands) act();
    });
  }

  #pullOut(): void {
    this.#cable.unplug();
    this.#later(LONGEST_UNPLUGGED_US, () => this.#plug());
  }

  /** Some laptops give the port no power meanwhile, and find everything anew. */
  #sleep(): void {
    if (this.#isAsleep || this.#cable.found === undefined) return;
    this.#isAsleep = true;
    this.#cable.host.suspend();
    this.#later(LONGEST_SLEEP_US, () => {
      this.#isAsleep = false;
      this.#cable.host.resume();
      if (this.#random.chance(0.5)) this.#cable.findAnew();
    });
  }

  #losePackets(): void {
    const isLost = () => this.#random.below(4) === 0;
    this.#cable.host.damage = { losesAcknowledgement: isLost, damagesPacket: isLost };
    this.#timeline.at(this.#timeline.nowUs + BABBLE_US, () => {
      this.#cable.host.damage = noDamage;
    });
  }

  /** The name of a port that a program still holds is not given to another. */
  #path(): string | undefined {
    const { found } = this.#cable;
    if (found === undefined) return undefined;
    if (this.#named?.found !== found) {
      const before = this.#named?.path;
      const isTaken = this.#held !== undefined || this.#random.chance(0.3);
      const other = before === '/dev/ttyACM0' ? '/dev/ttyACM1' : '/dev/ttyACM0';
      this.#named = { found, path: isTaken ? other : (before ?? other) };
    }
    return this.#named.path;
  }

  #facts(): PortFacts[] {
    const path = this.#path();
    const { found } = this.#cable;
    if (path === undefined || found === undefined) return [];
    const hex = (id: number) => id.toString(16).padStart(4, '0');
    return [
      {
        path,
        manufacturer: found.manufacturer,
        serialNumber: found.serial,
        vendorId: hex(found.vendor),
        productId: hex(found.product),
      },
    ];
  }

  #openPort(path: string): Duplex {
    if (path !== this.#path()) throw new PortNotFoundError(path);
    if (this.#held !== undefined) throw new PortBusyError(path, 'the program itself');
    const port = this.#cable.open();
    this.#setup.beginsAnew();
    const held = this.#wire.connect(port, this.#setup.hear);
    this.#held = held;
    held.once('close', () => {
      if (this.#held === held) this.#held = undefined;
      if (this.#cable.port === port) this.#cable.close();
    });
    return closedLikeSerial(held);
  }
}

/** A serial port is closed when it says so, and not before: its next program waits for that. */
function closedLikeSerial(port: Duplex): Duplex {
  const close = (done: () => void) => port.once('close', done).destroy();
  Object.defineProperty(port, 'isOpen', { get: () => !port.closed });
  return Object.assign(port, { close });
}

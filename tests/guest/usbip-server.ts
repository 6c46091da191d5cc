import { createServer, type Server, type Socket } from 'node:net';
import type { FarEnd, UsbCable } from '../firmware/board/rig/usb/cable.js';
import type { Outcome, Request, Work } from '../firmware/board/rig/usb/host.js';
import { listenOnLoopback } from './loopback.js';
import { driveDescriptor, type MassStorage } from './mass-storage.js';
import { UsbTransfers } from './usb-transfers.js';
import {
  type Command,
  importRefusal,
  importReply,
  readCommand,
  readImport,
  submitReply,
  unlinkReply,
} from './usbip-packets.js';

const ADDRESS = 7;
/** How long a device may settle before it is asked who it is (USB 2.0, section 7.1.7.3: 100 ms). */
const SETTLE_US = 100_000;
const ADDRESS_US = 2000;
const GET_DESCRIPTOR = 6;
const SET_ADDRESS = 5;
const DEVICE = 0x100;
const CONFIGURATION = 0x200;

interface Device {
  readonly descriptor: Uint8Array;
  readonly interfaces: number;
}

/**
 * The far end of the board's USB cable, as a Linux kernel reaches it by USB/IP: its transfers go over the rig's strict host to
 * the board. One connection is one plug in a socket: when the cable is pulled or the board leaves the bus, it breaks.
 */
export class UsbIpServer implements FarEnd {
  /** Bytes that the board sent over its data endpoint, as the kernel took them. */
  receivedBytes = 0;
  /** Called whenever more of them went out. */
  onReceived: () => void = () => {};
  readonly #cable: UsbCable;
  readonly #server: Server;
  readonly #transfers: UsbTransfers;
  #isThere = false;
  #drive: MassStorage | undefined;
  #connection: Socket | undefined;

  constructor(cable: UsbCable) {
    this.#cable = cable;
    this.#transfers = new UsbTransfers(cable.host);
    this.#server = createServer((socket) => this.#serve(socket));
  }

  /** The port of the loopback that it listens at. */
  listen(): Promise<number> {
    return listenOnLoopback(this.#server);
  }

  plug(): void {
    this.#cable.plugInto(this);
  }

  unplug(): void {
    this.#cable.unplug();
  }

  close(): void {
    this.unplug();
    this.#server.close();
  }

  /** In place of the board, its boot ROM's drive is on the bus; undefined when it leaves. */
  offerDrive(drive: MassStorage | undefined): void {
    this.#drive = drive;
    this.#drop();
  }

  came(): void {
    this.#isThere = true;
  }

  went(): void {
    this.#isThere = false;
    this.#drop();
  }

  #drop(): void {
    this.#transfers.forget();
    this.#connection?.destroy();
    this.#connection = undefined;
  }

  /** First who is there is asked for, then comes one transfer after another. */
  #serve(socket: Socket): void {
    let unread: Buffer = Buffer.alloc(0);
    let isImported = false;
    const readOn = () => {
      while (isImported) {
        const next = readCommand(unread);
        if (next === undefined) return;
        unread = unread.subarray(next.lengthBytes);
        this.#obey(socket, next.command);
      }
      const wanted = readImport(unread);
      if (wanted === undefined) return;
      unread = unread.subarray(wanted.lengthBytes);
      this.#import(socket, wanted.busId, () => {
        isImported = true;
        readOn();
      });
    };
    socket.setNoDelay(true);
    socket.on('error', () => {});
    socket.on('close', () => {
      if (this.#connection === socket) this.#drop();
    });
    socket.on('data', (chunk) => {
      unread = Buffer.concat([unread, chunk]);
      readOn();
    });
  }

  #import(socket: Socket, busId: string, done: () => void): void {
    if (this.#drive !== undefined && this.#connection === undefined) {
      this.#connection = socket;
      socket.write(importReply(busId, driveDescriptor, 1));
      done();
      return;
    }
    if (!this.#isThere || this.#connection !== undefined) {
      socket.end(importRefusal());
      return;
    }
    this.#connection = socket;
    this.#cable.host.begin(this.#find(), (device) => {
      if (this.#connection !== socket) return;
      if (device === undefined) {
        this.#connection = undefined;
        socket.end(importRefusal());
        return;
      }
      socket.write(importReply(busId, device.descriptor, device.interfaces));
      done();
    });
  }

  /** The address is given here: the far kernel keeps its own to itself (Linux, vhci_hcd.c). */
  *#find(): Work<Device | undefined> {
    const { host } = this.#cable;
    yield* host.wait(SETTLE_US);
    yield* host.resetBus();
    const addressed = yield* host.control({ type: 0, request: SET_ADDRESS, value: ADDRESS });
    if (addressed.ended !== 'done') return undefined;
    host.address = ADDRESS;
    yield* host.wait(ADDRESS_US);
    const device = yield* host.control(descriptor(DEVICE, 18));
    const configuration = yield* host.control(descriptor(CONFIGURATION, 9));
    if (!isWhole(device, 18) || !isWhole(configuration, 9)) return undefined;
    return { descriptor: device.bytes, interfaces: configuration.bytes[4]! };
  }

  #obey(socket: Socket, command: Command): void {
    const device = this.#drive ?? this.#transfers;
    if (command.kind === 'unlink') {
      socket.write(unlinkReply(command, device.takeBack(command.unlinked)));
      return;
    }
    device.submit(command, (status, data, sentBytes) => {
      socket.write(submitReply(command, status, data, sentBytes));
      if (command.endpoint === 0 || !command.isIn) return;
      this.receivedBytes += data.length;
      this.onReceived();
    });
  }
}

function descriptor(value: number, length: number): Request {
  return { type: 0x80, request: GET_DESCRIPTOR, value, length };
}

function isWhole(outcome: Outcome, length: number): outcome is Outcome & { ended: 'done' } {
  return outcome.ended === 'done' && outcome.bytes.length === length;
}

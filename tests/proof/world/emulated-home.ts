import type { Timeline } from '../../../host/board/sim/timeline.js';
import { limits } from '../../../shared-protocol/limits.js';
import type { Chip } from '../../firmware/board/rig/chip.js';
import { EmulatedBoard } from '../../firmware/board/rig/emulated-board.js';
import { buildImage, type Image } from '../../firmware/board/rig/image.js';
import { flashBusyUs, flashBytes, NorFlash } from '../../firmware/board/rig/nor-flash.js';
import type { Random } from '../../setup/random.js';
import { UartLine } from './uart-line.js';
import { UsbLine } from './usb-line.js';
import type { BitDone, BoardKind, Onlooker, WorldBoard } from './world-board.js';
import type { LineSetup, WorldLine } from './world-line.js';

const FIRST_SECTOR = (flashBytes - limits.storageBytes) / limits.sectorBytes;
/** The alarm's measure and the relay's pin (tests/firmware/board/lamp holds the board to less). */
const PULSE_ERROR_MS = 0.003;

/**
 * The image of the real core on an emulated chip: every fault of the worlds can strike it.
 * @param core file of another build of the core.
 */
export function emulatedBoards(core?: string): BoardKind {
  const image = imageOf(core);
  return { name: 'emulated', make: (timeline, id) => new EmulatedInWorld(timeline, id, image) };
}

/** The same, at the laptop by its own USB port. */
export function usbBoards(core?: string): BoardKind {
  const image = imageOf(core);
  return { name: 'usb', make: (timeline, id) => new UsbInWorld(timeline, id, image) };
}

function imageOf(core: string | undefined): Image {
  return core === undefined ? buildImage() : buildImage(core, 'image-of-given-core');
}

class EmulatedInWorld implements WorldBoard {
  readonly home: EmulatedBoard;
  readonly id: string;
  readonly pulseErrorMs = PULSE_ERROR_MS;
  readonly #timeline: Timeline;
  readonly #unforeseen: string[] = [];
  /** Of every chip so far: there is a new one after each reset. */
  readonly #mistakesOfChips: string[][] = [];
  #onlooker: Onlooker | undefined;
  #hung = false;
  #watchdogResets = 0;
  #cancelCut = () => {};

  constructor(timeline: Timeline, id: string, image: Image) {
    const flash = new NorFlash();
    flash.id.set(Buffer.from(id, 'hex'));
    this.#timeline = timeline;
    this.id = id;
    this.home = new EmulatedBoard({ image, flash, timeline, powered: false });
    this.home.onLamp = (edge) => this.#onlooker?.lamp(edge);
    this.home.onStart = (chip) => this.#started(chip);
    this.home.restorePower();
  }

  get complaints(): string[] {
    const { flash, display, usbCable } = this.home;
    const mistakes = [...flash.mistakes, ...display.mistakes, ...usbCable.host.mistakes];
    return [...this.#unforeseen, ...this.#mistakesOfChips.flat(), ...mistakes];
  }

  watch(onlooker: Onlooker): void {
    this.#onlooker = onlooker;
  }

  /** The cable of the rig paces both ways. */
  lineTo(timeline: Timeline, random: Random, setup: LineSetup): WorldLine {
    return new UartLine(this.home, timeline, random, 0, setup);
  }

  pushReset(): void {
    if (!this.home.powered) return;
    this.#breakOff();
    this.home.reset('reset-pin');
  }

  /** Nothing is carried out any more, interrupts neither: the lamp stays as it is until the watchdog's time is over. */
  hang(): void {
    if (this.#hung || !this.home.powered || !this.home.chip.watchdog.timer.enable) return;
    this.#breakOff();
    this.home.chip.lockedUp = true;
    this.#hung = true;
  }

  cutPower(bitDone: BitDone): void {
    this.#breakOff();
    this.home.cutPower(bitDone);
  }

  cutPowerInsideFlash(operations: number, howFar: number, bitDone: BitDone): void {
    this.#callOffCut();
    let left = operations;
    this.home.flash.onOperation = ({ kind }) => {
      if (left-- > 0) return;
      this.#callOffCut();
      const inUs = howFar * (kind === 'erase' ? flashBusyUs.sectorErase : flashBusyUs.program);
      this.#cancelCut = this.#timeline.at(this.#timeline.nowUs + inUs, () => this.cutPower(bitDone));
    };
  }

  restorePower(): void {
    this.#callOffCut();
    this.home.restorePower();
  }

  wearOut(sector: number): void {
    this.home.flash.wearOut(FIRST_SECTOR + sector);
  }

  close(): void {
    this.home.close();
  }

  /** What a hang has broken off already is not broken off once more. */
  #breakOff(): void {
    if (!this.#hung) this.#onlooker?.breakingOff();
  }

  #callOffCut(): void {
    this.home.flash.onOperation = () => {};
    this.#cancelCut();
    this.#cancelCut = () => {};
  }

  /** A reset by the watchdog is in order only after a hang on purpose: a trap of the core would end in one as well. */
  #started(chip: Chip): void {
    const resets = this.home.watchdogResets.length;
    if (resets > this.#watchdogResets && !this.#hung) this.#unforeseen.push('the board reset itself');
    this.#watchdogResets = resets;
    this.#hung = false;
    this.#mistakesOfChips.push(chip.mistakes, chip.usb.mistakes);
    this.#onlooker?.started();
  }
}

class UsbInWorld extends EmulatedInWorld {
  override lineTo(timeline: Timeline, random: Random, setup: LineSetup): WorldLine {
    return new UsbLine(this.home.usbCable, timeline, random, setup);
  }
}

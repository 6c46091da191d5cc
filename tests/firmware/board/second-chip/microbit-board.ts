import type { Duplex } from 'node:stream';
import type { BoardHome, LampEdge, ResetCause, ToneChange } from '../../../../host/board/sim/board-home.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { Cable } from '../rig/cable.js';
import type { Image } from '../rig/image.js';
import { Machine, memory } from './machine.js';

/** firmware/board/nrf51/port/pins.h. */
const pins = {
  LAMP: 2,
  SAFELIGHT: 3,
  PEDAL: 6,
  KNOB_A: 7,
  KNOB_B: 8,
  KNOB_PUSH: 9,
  TONE: 10,
  LIGHT: 12,
} as const;
type Contact = 'PEDAL' | 'KNOB_A' | 'KNOB_B' | 'KNOB_PUSH';

const ROWS = 4;
const COLUMNS = 20;
/** firmware/board/nrf51/pwm.c: two words for each pin. */
const WAVE_BYTES = 8;
const PWM_HZ = 1_000_000;
/** Between two phases of a knob that is turned by hand; the firmware looks once a millisecond. */
const KNOB_QUARTER_US = 2000;
/** So many bytes come at once; the chip's queue has room for six. */
const BYTES_AT_ONCE = 4;
/** On a shared timeline the chip comes after the others in such slices. */
const SLICE_US = 1000;

/** The power failed where a test wanted it to. */
export class PowerFailed extends Error {}

export interface MicrobitBoardOptions {
  readonly image: Image;
  /** A timeline shared with others and driven by them, for instance the host's clock. */
  readonly timeline?: Timeline;
}

/**
 * The board on QEMU's nRF51. What its pins do is told to a millisecond; the panel and the sounder are what the firmware
 * would show and sound, read from its memory, as QEMU has neither a display nor a counter that makes waves.
 */
export class MicrobitBoard implements BoardHome {
  readonly timeline: Timeline;
  readonly lampEdges: LampEdge[] = [];
  readonly tones: ToneChange[] = [];
  /** Resets that the chip did by itself. */
  readonly ownResets: number[] = [];
  safelightOn = true;
  lampOn = false;
  /** What the chip's flash had when the power last failed; a board without power starts with it. */
  flash: Uint8Array;
  readonly #image: Image;
  readonly #cable: Cable;
  readonly #follows: boolean;
  readonly #levels = { PEDAL: true, KNOB_A: true, KNOB_B: true, KNOB_PUSH: true };
  #machine: Machine | undefined;
  /** How far the chip has come. */
  #chipUs = 0;
  #given: number[] = [];
  #failure: { changes: number; readonly instructions: number } | undefined;
  #cancelSlice = () => {};

  constructor(options: MicrobitBoardOptions) {
    this.timeline = options.timeline ?? new Timeline();
    this.#follows = options.timeline !== undefined;
    this.#image = options.image;
    this.flash = new Uint8Array(memory.flash).fill(0xff);
    this.flash.set(options.image.bytes);
    this.#cable = new Cable(this.timeline, {
      baud: 115_200,
      bytesAtOnce: BYTES_AT_ONCE,
      receive: (byte) => this.#give(byte),
    });
    this.restorePower();
  }

  get nowUs(): number {
    return this.timeline.nowUs;
  }

  advanceUs(us: number): void {
    const untilUs = this.nowUs + us;
    while (this.nowUs < untilUs) {
      const stopUs = Math.min(untilUs, this.timeline.nextUs ?? Number.POSITIVE_INFINITY);
      this.#runChip(stopUs);
      this.timeline.runUntil(stopUs);
    }
  }

  plug(): Duplex {
    return this.#cable.plug();
  }

  pedal(down: boolean): void {
    this.#setLevel('PEDAL', !down);
  }

  knobPush(down: boolean): void {
    this.#setLevel('KNOB_PUSH', !down);
  }

  /** Four quarter steps to a detent, one after another; clockwise, phase A closes first. */
  knobTurn(detents: number): void {
    const [first, second]: [Contact, Contact] = detents > 0 ? ['KNOB_A', 'KNOB_B'] : ['KNOB_B', 'KNOB_A'];
    const quarters = [first, second, first, second];
    for (let quarter = 0; quarter < Math.abs(detents) * quarters.length; quarter++) {
      const at = quarter % quarters.length;
      this.timeline.at(this.nowUs + quarter * KNOB_QUARTER_US, () => this.#setLevel(quarters[at]!, at > 1));
    }
    this.timeline.runUntil(this.nowUs);
  }

  reset(cause: ResetCause): void {
    if (cause === 'power') {
      this.cutPower();
      this.restorePower();
      return;
    }
    if (cause !== 'reset-pin') throw new Error(`a chip cannot be reset by "${cause}" from outside`);
    this.#machine?.reset(this.nowUs);
    this.#goDark();
    this.#showLevels();
  }

  /** QEMU is killed in the middle of whatever it does; the flash is as it was at that moment. */
  cutPower(): void {
    if (this.#machine === undefined) return;
    this.flash = this.#machine.flash();
    this.#machine.kill();
    this.#machine = undefined;
    this.#goDark();
  }

  /** Lets the power fail so many instructions after the so-manieth change of the flash from now has begun. */
  failInto(change: number, instructions: number): void {
    this.#failure = { changes: change, instructions };
  }

  /** The processor runs to where no program is. */
  goAstray(): void {
    this.#machine?.goAstray();
  }

  restorePower(): void {
    if (this.#machine !== undefined) return;
    this.#failure = undefined;
    this.#machine = new Machine(this.flash, this.nowUs);
    this.#chipUs = this.nowUs;
    this.#showLevels();
    this.#follow();
  }

  get panel(): readonly string[] {
    const text = this.#machine?.qtest.bytes(this.#symbol('wanted'), ROWS * COLUMNS).toString('latin1') ?? '';
    return Array.from({ length: ROWS }, (_, row) => text.slice(row * COLUMNS, (row + 1) * COLUMNS));
  }

  get displayLightPercent(): number {
    const { period, high } = this.#wave(pins.LIGHT);
    return period === 0 ? 0 : Math.round((high / period) * 100);
  }

  close(): void {
    this.#cancelSlice();
    this.#machine?.kill();
    this.#machine = undefined;
    this.#cable.unplug();
  }

  #symbol(name: string): number {
    return this.#image.symbols.get(name)!;
  }

  #wave(pin: number): { period: number; high: number } {
    const at = this.#symbol('pwm_waves') + WAVE_BYTES * pin;
    const words = this.#machine?.qtest.bytes(at, WAVE_BYTES);
    return { period: words?.readUInt32LE(0) ?? 0, high: words?.readUInt32LE(4) ?? 0 };
  }

  #runChip(untilUs: number): void {
    const machine = this.#machine;
    if (machine === undefined || untilUs <= this.#chipUs) return;
    if (this.#given.length > 0) machine.receive(Uint8Array.from(this.#given));
    this.#given = [];
    for (let stop = machine.run(untilUs); stop !== 'time'; stop = machine.run(untilUs)) {
      if (stop === 'pin') this.#lookAtOutputs(machine);
      else if (stop === 'flash') this.#failIfWanted(machine);
      else this.#cameBack(machine);
    }
    this.#chipUs = untilUs;
    for (const byte of machine.takeSent()) this.#cable.giveOut(byte);
  }

  /** Brings the chip up to this moment, before something from outside happens in it. */
  #catchUp(): void {
    this.#runChip(this.nowUs);
  }

  /** Lets others who drive the timeline take the chip with them. */
  #follow(): void {
    if (!this.#follows) return;
    this.#cancelSlice();
    this.#cancelSlice = this.timeline.at(this.nowUs + SLICE_US, () => {
      this.#catchUp();
      this.#follow();
    });
  }

  #failIfWanted(machine: Machine): void {
    if (this.#failure === undefined || !machine.isChangingFlash) return;
    this.#failure.changes--;
    if (this.#failure.changes > 0) return;
    machine.step(this.#failure.instructions);
    this.cutPower();
    throw new PowerFailed();
  }

  #cameBack(machine: Machine): void {
    this.ownResets.push(machine.nowUs);
    this.#goDark();
    this.#showLevels();
  }

  #lookAtOutputs(machine: Machine): void {
    const { outputs } = machine;
    this.safelightOn = (outputs & (1 << pins.SAFELIGHT)) === 0;
    this.#switchLamp((outputs & (1 << pins.LAMP)) !== 0, machine);
    const { period, high } = this.#wave(pins.TONE);
    const hz = high === 0 ? 0 : Math.round(PWM_HZ / period);
    this.#sound(hz, high === 0 ? 0 : Math.round((high / period) * 200), machine);
  }

  #switchLamp(on: boolean, machine?: Machine): void {
    if (on === this.lampOn) return;
    this.lampOn = on;
    this.lampEdges.push({ atUs: machine?.nowUs ?? this.nowUs, on });
  }

  #sound(hz: number, volumePercent: number, machine?: Machine): void {
    const last = this.tones.at(-1) ?? { hz: 0, volumePercent: 0 };
    if (last.hz === hz && last.volumePercent === volumePercent) return;
    this.tones.push({ atUs: machine?.nowUs ?? this.nowUs, hz, volumePercent });
  }

  #goDark(): void {
    this.#switchLamp(false);
    this.#sound(0, 0);
    this.safelightOn = true;
  }

  #give(byte: number): void {
    this.#catchUp();
    if (this.#machine !== undefined) this.#given.push(byte);
  }

  #setLevel(contact: Contact, high: boolean): void {
    this.#catchUp();
    this.#levels[contact] = high;
    this.#machine?.qtest.setPin(pins[contact], high);
  }

  #showLevels(): void {
    for (const contact of Object.keys(this.#levels) as Contact[])
      this.#machine?.qtest.setPin(pins[contact], this.#levels[contact]);
  }
}

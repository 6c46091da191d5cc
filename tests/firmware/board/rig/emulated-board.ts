import type { Duplex } from 'node:stream';
import { GPIOPinState, RP2040 } from 'rp2040js';
import type { BoardHome, LampEdge, ResetCause, ToneChange } from '../../../../host/board/sim/board-home.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { BootDrive, MountedDrive } from './boot-drive.js';
import { bootFrom, bootRomUs } from './boot-rom.js';
import { Cable } from './cable.js';
import { Chip, resetBits } from './chip.js';
import { TextDisplay } from './display.js';
import { I2cBus } from './i2c-bus.js';
import type { Image } from './image.js';
import { type BitDone, NorFlash } from './nor-flash.js';
import { pins } from './pins.js';
import { UsbCable } from './usb/cable.js';
import { UsbController } from './usb/controller.js';

const TONE_SLICE = 5;
const LIGHT_SLICE = 6;
const REMEMBERED = 65_536;
/** On a shared timeline the chip comes after the others in slices; what it says may be so much late. */
const SLICE_US = 250;
/** A chip that sleeps is looked after this often, at least. */
const LONGEST_SLICE_US = 20_000;
/** A laptop notices so soon that a board has come onto its bus. */
const USB_LOOK_US = 1000;
/** Where many boards can read VBUS of their USB socket; the firmware looks there only if it was built for it. */
const VBUS_PIN = 24;
/** Between two phases of a knob that is turned by hand. */
const KNOB_QUARTER_US = 2000;

const contactPins = { pedal: pins.PEDAL, push: pins.KNOB_PUSH, a: pins.KNOB_A, b: pins.KNOB_B } as const;
type Contact = keyof typeof contactPins;

export interface EmulatedBoardOptions {
  readonly image: Image;
  readonly flash?: NorFlash;
  /** False leaves the board without power until `restorePower`. */
  readonly powered?: boolean;
  /** A timeline shared with others and driven by them, for instance the host's clock. */
  readonly timeline?: Timeline;
  /** The folder that is to stand for its drive when it waits for new firmware; the system makes it and takes it away. */
  readonly driveFolder?: string;
}

/**
 * The board on an emulated RP2040 with everything around it: flash, display, pedal, knob, relays, serial cable.
 * Time is emulated, so it is exact and the same every time; it goes on only in `advanceUs`.
 */
export class EmulatedBoard implements BoardHome {
  readonly timeline: Timeline;
  readonly flash: NorFlash;
  readonly display = new TextDisplay();
  readonly cable: Cable;
  readonly usbCable: UsbCable;
  readonly lampEdges: LampEdge[] = [];
  readonly tones: ToneChange[] = [];
  /** Resets that the watchdog asked for, with their times. */
  readonly watchdogResets: number[] = [];
  safelightOn = true;
  readonly image: Image;
  /** While the boot ROM makes the board a drive. */
  drive: MountedDrive | undefined;
  readonly #driveFolder: string | undefined;
  /** Called with the boot ROM's drive where no folder stands for it; whoever takes it calls `leaveDrive` when it is whole. */
  onDrive: ((drive: BootDrive) => void) | undefined;
  /** Called with each chip before its first instruction. */
  onStart: (chip: Chip) => void = () => {};
  /** Called with each edge of the lamp's relay. */
  onLamp: (edge: LampEdge) => void = () => {};

  #chip: Chip | undefined;
  #booted = false;
  #bus: I2cBus | undefined;
  #busStuck = false;
  #levels = { pedal: true, push: true, a: true, b: true };
  #lampOn = false;
  readonly #follows: boolean;
  #cancelSlice = () => {};

  constructor(options: EmulatedBoardOptions) {
    this.timeline = options.timeline ?? new Timeline();
    this.#follows = options.timeline !== undefined;
    this.image = options.image;
    this.#driveFolder = options.driveFolder;
    this.flash = options.flash ?? new NorFlash();
    this.flash.bytes.set(options.image.bytes);
    const board = this;
    this.cable = new Cable(this.timeline, {
      get baud() {
        return board.#chip?.uart0.baud ?? 0;
      },
      receive: (byte) => {
        this.#catchUp();
        this.#chip?.uart0.receive(byte);
        this.#follow();
      },
    });
    this.usbCable = new UsbCable(this.timeline, () => {
      this.#catchUp();
      this.#follow();
      return this.#chip?.usb ?? withoutPower;
    });
    this.usbCable.onPower = (there) => {
      this.#catchUp();
      this.#chip?.gpio[VBUS_PIN]?.setInputValue(there);
      this.#follow();
    };
    if (options.powered !== false) this.restorePower();
  }

  /** The chip since its last reset; for tests that look inside. */
  get chip(): Chip {
    if (this.#chip === undefined) throw new Error('the board has no power');
    return this.#chip;
  }

  get powered(): boolean {
    return this.#chip !== undefined;
  }

  /** Whatever the models found that a real part would not forgive. */
  get mistakes(): string[] {
    return [
      ...(this.#chip?.mistakes ?? []),
      ...(this.#chip?.usb.mistakes ?? []),
      ...this.flash.mistakes,
      ...this.display.mistakes,
      ...this.usbCable.host.mistakes,
    ];
  }

  /** Power with the boot button held. */
  startAsDrive(): void {
    this.cutPower();
    this.#becomeDrive(new Chip(this.flash, resetBits.power));
  }

  get nowUs(): number {
    return this.timeline.nowUs;
  }

  /** The time to a fraction of a microsecond, as the chip has it. */
  get exactUs(): number {
    return this.#chip !== undefined && this.#booted ? this.#chip.exactUs : this.nowUs;
  }

  get lampOn(): boolean {
    return this.#lampOn;
  }

  get panel(): readonly string[] {
    return this.display.rows;
  }

  /** As it shines where nobody took out the display board's own transistor. */
  get displayLightPercent(): number {
    if (this.display.plugged && this.display.lightGrounded) return 100;
    return Math.round((this.#chip?.pwmOut.wave(LIGHT_SLICE).duty ?? 0) * 100);
  }

  advanceUs(us: number): void {
    this.lookAtDrive();
    const untilUs = this.nowUs + us;
    while (this.nowUs < untilUs) {
      const lookUs = this.usbCable.awaitsBoard ? this.nowUs + USB_LOOK_US : Number.POSITIVE_INFINITY;
      const stopUs = Math.min(untilUs, lookUs, this.timeline.nextUs ?? Number.POSITIVE_INFINITY);
      this.timeline.runUntil(this.#runChip(stopUs));
    }
  }

  /** Plans the chip's next slice: at once when something came from outside, else when it has something to do. */
  #follow(sleepUs = 0): void {
    if (!this.#follows) return;
    this.#cancelSlice();
    const sliceUs = Math.min(Math.max(SLICE_US, sleepUs), LONGEST_SLICE_US);
    this.#cancelSlice = this.timeline.at(this.nowUs + sliceUs, () => {
      this.#catchUp();
      this.#follow(this.#booted ? this.#chip?.sleepUs : Number.POSITIVE_INFINITY);
    });
  }

  /** Brings the chip up to this moment, before something from outside happens in it. */
  #catchUp(): void {
    while (this.#chip !== undefined && this.#booted && this.#runChip(this.nowUs) < this.nowUs);
  }

  plug(): Duplex {
    return this.cable.plug();
  }

  unplug(): void {
    this.cable.unplug();
  }

  pedal(down: boolean): void {
    this.#setLevel('pedal', !down);
  }

  knobPush(down: boolean): void {
    this.#setLevel('push', !down);
  }

  /** Four quarter steps to a detent, one after another; clockwise, phase A closes first. */
  knobTurn(detents: number): void {
    const [first, second]: [Contact, Contact] = detents > 0 ? ['a', 'b'] : ['b', 'a'];
    const quarters: [Contact, boolean][] = [
      [first, false],
      [second, false],
      [first, true],
      [second, true],
    ];
    for (let quarter = 0; quarter < Math.abs(detents) * quarters.length; quarter++) {
      const [contact, level] = quarters[quarter % quarters.length]!;
      this.timeline.at(this.nowUs + quarter * KNOB_QUARTER_US, () => this.#setLevel(contact, level));
    }
    this.timeline.runUntil(this.nowUs);
  }

  reset(cause: ResetCause): void {
    if (cause === 'power') {
      this.cutPower();
      this.restorePower();
      return;
    }
    if (cause !== 'reset-pin')
      throw new Error(`a chip cannot be reset by "${cause}" from outside: make it happen`);
    this.#start(resetBits.pin, this.nowUs);
  }

  /** One of the knob's two phases, open or closed to ground, for bounces. */
  knobPhase(phase: 'a' | 'b', open: boolean): void {
    this.#setLevel(phase, open);
  }

  /** What was written to the drive is taken; when the image is whole, the chip starts with it. */
  lookAtDrive(): void {
    if (this.drive?.look()) this.leaveDrive();
  }

  /** What the flash had under way is torn: `bitDone` is asked for each bit that was changing. */
  cutPower(bitDone: BitDone = () => false): void {
    this.drive?.goAway();
    this.drive = undefined;
    this.#stop();
    this.#chip = undefined;
    this.usbCable.attachmentChanged(false);
    this.flash.cutPower(bitDone);
    this.display.restart();
  }

  restorePower(): void {
    if (this.#chip === undefined) this.#start(resetBits.power, this.nowUs);
  }

  /** The display's plug. */
  plugDisplay(plugged: boolean): void {
    this.display.plugged = plugged;
    if (plugged) this.display.restart();
  }

  /** Somebody holds the display's data line. */
  holdDisplayBus(stuck: boolean): void {
    this.#busStuck = stuck;
    if (this.#bus !== undefined) this.#bus.stuck = stuck;
  }

  close(): void {
    this.#stop();
    this.#chip = undefined;
    this.cable.unplug();
    this.usbCable.unplug();
  }

  /** Runs the chip for as long as it goes, and gives the time it has come to. */
  #runChip(untilUs: number): number {
    const chip = this.#chip;
    if (chip === undefined || !this.#booted) return untilUs;
    chip.runUntil((untilUs - chip.sinceUs) * 1000);
    this.flash.advanceTo(this.exactUs);
    if (!chip.resetWanted) return untilUs;
    if (chip.bootDriveWanted !== undefined) {
      this.#becomeDrive(chip);
      return untilUs;
    }
    const reachedUs = Math.min(untilUs, Math.ceil(this.exactUs));
    this.watchdogResets.push(this.exactUs);
    this.#start(resetBits.watchdog, reachedUs, chip.watchdog);
    return reachedUs;
  }

  /** The boot ROM in place of our firmware: every pin floats, and nothing answers but the drive. */
  #becomeDrive(chip: Chip): void {
    this.#stop();
    this.usbCable.attachmentChanged(false);
    this.#chip = chip;
    this.#booted = false;
    if (this.#driveFolder !== undefined) this.drive = new MountedDrive(this.flash, this.#driveFolder);
    else if (this.onDrive !== undefined) this.onDrive(new BootDrive(this.flash));
    else throw new Error('this board has no folder for its drive');
  }

  /** The boot ROM starts the chip by its watchdog, and the drive goes away. */
  leaveDrive(): void {
    this.drive?.goAway();
    this.drive = undefined;
    const { watchdog } = this.chip;
    watchdog.reason = WATCHDOG_REASON_TIMER;
    this.#start(resetBits.watchdog, this.nowUs, watchdog);
  }

  /** A reset: every pin floats, and the boot ROM begins. */
  #start(why: number, atUs: number, watchdogBefore?: Chip['watchdog']): void {
    this.#stop();
    this.usbCable.attachmentChanged(false);
    const chip = new Chip(this.flash, why, watchdogBefore);
    this.#chip = chip;
    this.#booted = false;
    this.#wire(chip);
    this.timeline.at(atUs + bootRomUs.before, () => this.#boot(chip));
  }

  #boot(chip: Chip): void {
    if (chip !== this.#chip) return;
    this.flash.advanceTo(this.nowUs);
    if (!bootFrom(this.flash, chip)) {
      this.timeline.at(this.nowUs + bootRomUs.retry, () => this.#boot(chip));
      return;
    }
    chip.sinceUs = this.nowUs;
    this.#booted = true;
    this.onStart(chip);
    this.#follow();
  }

  #stop(): void {
    this.#switchLamp(false);
    this.safelightOn = true;
    this.#sound(0, 0);
  }

  #wire(chip: Chip): void {
    chip.gpio[pins.LAMP_RELAY]!.addListener((state) => this.#switchLamp(state === GPIOPinState.High));
    chip.gpio[pins.SAFELIGHT_RELAY]!.addListener((state) => {
      this.safelightOn = state !== GPIOPinState.High;
    });
    chip.uart0.onSent = (byte) => this.cable.giveOut(byte);
    chip.usb.onAttached = (attached) => this.usbCable.attachmentChanged(attached);
    chip.pwmOut.onChange = (slice) => this.#hear(chip, slice);
    this.#bus = new I2cBus(chip.i2c[0]!, chip.time, this.display, () => this.exactUs);
    this.#bus.stuck = this.#busStuck;
    this.#showLevels(chip);
  }

  #hear(chip: Chip, slice: number): void {
    if (slice !== TONE_SLICE) return;
    const { hz, duty } = chip.pwmOut.wave(TONE_SLICE);
    this.#sound(Math.round(hz), Math.round(duty * 200));
  }

  #sound(hz: number, volumePercent: number): void {
    const last = this.tones.at(-1);
    if ((last?.hz ?? 0) === hz && (last?.volumePercent ?? 0) === volumePercent) return;
    remember(this.tones, { atUs: this.exactUs, hz, volumePercent });
  }

  #switchLamp(on: boolean): void {
    if (on === this.#lampOn) return;
    this.#lampOn = on;
    const edge = { atUs: this.exactUs, on };
    remember(this.lampEdges, edge);
    this.onLamp(edge);
  }

  #setLevel(contact: Contact, high: boolean): void {
    if (this.#levels[contact] === high) return;
    this.#catchUp();
    this.#levels[contact] = high;
    this.#chip?.gpio[contactPins[contact]]?.setInputValue(high);
    this.#follow();
  }

  #showLevels(chip: Chip): void {
    for (const contact of Object.keys(contactPins) as Contact[]) {
      chip.gpio[contactPins[contact]]!.setInputValue(this.#levels[contact]);
    }
    chip.gpio[VBUS_PIN]!.setInputValue(this.usbCable.givesPower);
  }
}

/** The watchdog's REASON: its timer ran out (section 4.7.6). */
const WATCHDOG_REASON_TIMER = 1;

/** What the laptop's end of the cable sees of a board that is off. */
const withoutPower = new UsbController(new RP2040());

function remember<Item>(items: Item[], item: Item): void {
  items.push(item);
  if (items.length > REMEMBERED) items.shift();
}

import { BasePeripheral, type RP2040 } from 'rp2040js';
import { clockOf, type EmulatedAlarm } from './clock.js';

/** RP2040 datasheet section 4.6.5. */
const TIMEHR = 0x08;
const TIMELR = 0x0c;
const ALARM0 = 0x10;
const ALARM3 = 0x1c;
const ARMED = 0x20;
const TIMERAWH = 0x24;
const TIMERAWL = 0x28;
const INTR = 0x34;
const INTE = 0x38;
const INTF = 0x3c;
const INTS = 0x40;
const WRAP = 2 ** 32;
const NANOS_A_TICK = 1000;

/**
 * The microsecond timer. The emulator's own fires an alarm up to a microsecond early, because it counts from the
 * middle of a tick; this one fires at the tick on which the counter becomes equal, and an alarm set to the
 * present count waits for the next time round.
 */
export class Timer extends BasePeripheral {
  /** Set bits are alarms whose interrupt does not reach the processor: a broken first alarm, for instance. */
  broken = 0;
  #targets = [0, 0, 0, 0];
  #alarms: EmulatedAlarm[];
  #armed = 0;
  #raw = 0;
  #enabled = 0;
  #forced = 0;
  #latchedHigh = 0;

  constructor(chip: RP2040) {
    super(chip, 'TIMER');
    this.#alarms = [0, 1, 2, 3].map((alarm) => clockOf(chip).createAlarm(() => this.#fire(alarm)));
  }

  get #ticks(): number {
    return Math.floor(clockOf(this.rp2040).nanos / NANOS_A_TICK);
  }

  override readUint32(offset: number): number {
    if (offset >= ALARM0 && offset <= ALARM3) return this.#targets[(offset - ALARM0) / 4]!;
    switch (offset) {
      case TIMELR:
        this.#latchedHigh = Math.floor(this.#ticks / WRAP);
        return this.#ticks % WRAP;
      case TIMEHR:
        return this.#latchedHigh;
      case TIMERAWH:
        return Math.floor(this.#ticks / WRAP);
      case TIMERAWL:
        return this.#ticks % WRAP;
      case ARMED:
        return this.#armed;
      case INTR:
        return this.#raw;
      case INTE:
        return this.#enabled;
      case INTF:
        return this.#forced;
      case INTS:
        return (this.#raw & this.#enabled) | this.#forced;
      default:
        return super.readUint32(offset);
    }
  }

  override writeUint32(offset: number, value: number): void {
    if (offset >= ALARM0 && offset <= ALARM3) this.#arm((offset - ALARM0) / 4, value >>> 0);
    else if (offset === ARMED) this.#disarm(this.rawWriteValue);
    else if (offset === INTR) this.#raw &= ~this.rawWriteValue;
    else if (offset === INTE) this.#enabled = value;
    else if (offset === INTF) this.#forced = value;
    else super.writeUint32(offset, value);
    this.#report();
  }

  #arm(alarm: number, target: number): void {
    const ticks = this.#ticks;
    const wait = (target - (ticks % WRAP) + WRAP) % WRAP || WRAP;
    this.#targets[alarm] = target;
    this.#armed |= 1 << alarm;
    this.#alarms[alarm]!.schedule((ticks + wait) * NANOS_A_TICK - clockOf(this.rp2040).nanos);
  }

  #disarm(alarms: number): void {
    this.#armed &= ~alarms;
    for (const [index, alarm] of this.#alarms.entries()) if (alarms & (1 << index)) alarm.cancel();
  }

  #fire(alarm: number): void {
    this.#armed &= ~(1 << alarm);
    if (this.broken & (1 << alarm)) return;
    this.#raw |= 1 << alarm;
    this.#report();
  }

  #report(): void {
    const status = (this.#raw & this.#enabled) | this.#forced;
    for (let alarm = 0; alarm < 4; alarm++) this.rp2040.setInterrupt(alarm, (status & (1 << alarm)) !== 0);
  }
}

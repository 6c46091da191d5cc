import type { RP2040 } from 'rp2040js';

/** The emulator's clock as it is: alarms in order, going on only when told. The package does not export its type. */
export interface EmulatedClock {
  readonly nanos: number;
  readonly nextAlarm: object | null;
  readonly nanosToNextAlarm: number;
  tick(deltaNanos: number): void;
  createAlarm(callback: () => void): EmulatedAlarm;
}

export interface EmulatedAlarm {
  schedule(deltaNanos: number): void;
  cancel(): void;
}

export function clockOf(chip: RP2040): EmulatedClock {
  return chip.clock as unknown as EmulatedClock;
}

import type { RP2040 } from 'rp2040js';
import { clockOf } from './clock.js';

/** ARMv6-M manual, B3.3.3: control, reload, current value; the processor's own page begins at 0xe000e000. */
const CSR = 0x10;
const RVR = 0x14;
const CVR = 0x18;
const ENABLE = 1;
const INTERRUPTS = 2;

/** The processor's own timer, as far as firmware needs it: the emulator's begins at its far end instead of at the reload. */
export function correctSystick(chip: RP2040): void {
  const { ppb, core } = chip;
  const write = ppb.writeUint32.bind(ppb);
  let control = 0;
  let reload = 0;
  const begin = () => alarm.schedule(((reload + 1) * 1e9) / chip.clkSys);
  const alarm = clockOf(chip).createAlarm(() => {
    begin();
    if ((control & INTERRUPTS) === 0) return;
    core.pendingSystick = true;
    core.interruptsUpdated = true;
  });
  ppb.writeUint32 = (offset, value) => {
    if (offset === RVR) reload = value;
    else if (offset === CSR) {
      control = value;
      alarm.cancel();
      if (value & ENABLE) begin();
    } else if (offset !== CVR) write(offset, value);
  };
}

import { canBuildImages } from '../firmware/board/rig/image.js';
import { boardTestsAreRequired } from '../firmware/board/rig/requirements.js';
import { canRunSecondChip } from '../firmware/board/second-chip/requirements.js';

/** Says in one line when the board's tests cannot run here, and refuses where they must. */
export default function boardTools(): void {
  const missing: string[] = [];
  if (!canBuildImages())
    missing.push(
      "of the board's image are skipped: gcc-arm-none-eabi, libnewlib-arm-none-eabi or wabt is not installed",
    );
  if (!canRunSecondChip) missing.push('on a second chip are skipped: qemu-system-arm is not installed');
  if (missing.length > 0 && boardTestsAreRequired)
    throw new Error(`Tests must run. Those ${missing.join('; those ')}`);
  for (const words of missing) console.log(`The tests ${words}.`);
}

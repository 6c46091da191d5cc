import { canBuildImages } from '../firmware/board/rig/image.js';
import { boardTestsAreRequired } from '../firmware/board/rig/requirements.js';

/** Says in one line when the board's tests cannot run here, and refuses where they must. */
export default function boardTools(): void {
  if (canBuildImages()) return;
  const missing = 'gcc-arm-none-eabi, libnewlib-arm-none-eabi or wabt is not installed';
  if (boardTestsAreRequired) throw new Error(`${missing}: the board's tests need them`);
  console.log(`The tests of the board's image are skipped: ${missing}.`);
}

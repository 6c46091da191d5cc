import { spawnSync } from 'node:child_process';
import { buildImage, type Image } from '../rig/image.js';
import { boardTestsAreRequired, boardTestsRun } from '../rig/requirements.js';

/** Whether QEMU for ARM is here. */
export const canRunSecondChip: boolean =
  spawnSync('qemu-system-arm', ['--version'], { stdio: 'ignore' }).error === undefined;

/** For `describe.runIf`: skipped without QEMU, unless required. */
export const secondChipRuns: boolean = boardTestsAreRequired || (boardTestsRun && canRunSecondChip);

/** The image for the nRF51, around the core that `npm run build` made. */
export const secondChipImage = (): Image => buildImage(undefined, 'image-nrf51', ['--chip', 'nrf51']);

/**
 * `npm run guest`: the emulated board at a real Linux, in an emulated computer. Ends with 77, as test programs do that were
 * not run, where what it needs is not to be had.
 */
import { mkdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { canBuildImages } from '../firmware/board/rig/image.js';
import { debianPackages, type Unpacked } from './debian-packages.js';
import { boardAfterAnEvening } from './evening-before.js';
import { tellOfNewFirmware } from './flash-story.js';
import { type Bootable, guestRoot } from './guest-root.js';
import { Laptop } from './laptop.js';
import { Machine } from './machine.js';
import { NotToBeHad } from './not-to-be-had.js';
import { PacedBoard } from './paced-board.js';
import { tellOfRoughPrograms } from './rough-story.js';
import { tellStory } from './story.js';
import { Transcript } from './transcript.js';
import { UsbIpServer } from './usbip-server.js';

const NOT_RUN = 77;
/** What was written down stays here, and so do the packages for the next time. */
const folder = process.env.TREADLE_GUEST_FOLDER ?? join(tmpdir(), 'treadle-guest');
const runFolder = join(folder, 'run');

function whatItNeeds(): Unpacked {
  if (!canBuildImages())
    throw new NotToBeHad('apt-get install gcc-arm-none-eabi libnewlib-arm-none-eabi wabt');
  return debianPackages(join(folder, 'packages'));
}

async function run(transcript: Transcript): Promise<void> {
  const packages = whatItNeeds();
  transcript.tell("Debian's packages are here");
  const bootable = guestRoot(packages, runFolder);
  transcript.tell(`the guest's files are laid out; ${Machine.version}, Linux ${bootable.kernelVersion}`);
  const { board, records } = await boardAfterAnEvening();
  const paced = new PacedBoard(board);
  const cable = new UsbIpServer(board.usbCable);
  let machine: Machine | undefined;
  try {
    paced.start();
    machine = await bootLaptop(bootable, cable);
    transcript.tell('the laptop has booted');
    const laptop = new Laptop(paced, cable, machine, transcript);
    await tellStory(laptop, records, folder);
    await tellOfRoughPrograms(laptop);
    await tellOfNewFirmware(laptop);
    laptop.refuseMistakes();
    transcript.tell(
      `all of it went well; the chip lost ${Math.round(paced.lostMs)} ms, where this computer was too slow for it`,
    );
  } finally {
    machine?.stop();
    cable.close();
    paced.stop();
    board.close();
  }
}

async function bootLaptop(bootable: Bootable, cable: UsbIpServer): Promise<Machine> {
  return Machine.boot(bootable, runFolder, await cable.listen());
}

rmSync(runFolder, { recursive: true, force: true });
mkdirSync(runFolder, { recursive: true });
// QEMU goes with this process however it ends; see Machine.
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => process.exit(1));
const transcript = new Transcript(join(folder, 'transcript.txt'));
try {
  await run(transcript);
} catch (error) {
  process.exitCode = error instanceof NotToBeHad ? NOT_RUN : 1;
  transcript.tell(
    error instanceof NotToBeHad
      ? `The guest was not run. It needs what is not to be had here: ${error.message}`
      : `failed: ${error instanceof Error ? error.stack : error}`,
  );
} finally {
  rmSync(runFolder, { recursive: true, force: true });
}
console.log(`${Math.round(transcript.seconds)} s. The transcript is in ${transcript.file}.`);
process.exit();

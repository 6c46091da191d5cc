/** What the image's build has to know about this chip. */
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { sealBootBlock } from './boot-block.mjs';

const folder = dirname(fileURLToPath(import.meta.url));
const machine = ['-mcpu=cortex-m0plus', '-mthumb'];
const bootBlock = 'boot_block.c';
const KIB = 1024;

export default {
  machine,
  tool: (name) => `arm-none-eabi-${name}`,
  packages: 'gcc-arm-none-eabi libnewlib-arm-none-eabi',
  /** Compiled and sealed apart from everything else. */
  bootBlock,
  bootObjects: (objects) => [sealBootBlock(join(folder, bootBlock), objects, machine)],
  /** Where the chip's memory begins and lies (RP2040 datasheet section 2.2). */
  flashBase: 0x1000_0000,
  isRam: (address) => address >= 0x2000_0000 && address < 0x2004_2000,
  /** What the image may take, the core's 64 KiB of RAM included. */
  flashLimitBytes: 160 * KIB,
  ramLimitBytes: 104 * KIB,
  /** Where the program begins, and what the processor pushes on an exception: 8 registers, and a word to align them (ARMv6-M manual, B1.5.6). */
  mainProgram: 'reset',
  exceptionFrameBytes: 36,
  /** Handlers of the chip's own, all at the lowest priority. */
  ownHandlers: ['bus_reset_tick'],
  /** github.com/microsoft/uf2, utils/uf2families.json. */
  uf2Family: 0xe48b_ff56,
};

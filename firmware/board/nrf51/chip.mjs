/** What the image's build has to know about this chip, as QEMU's `microbit` machine has it with more memory than was ever made. */
const KIB = 1024;

export default {
  machine: ['-mcpu=cortex-m0', '-mthumb'],
  tool: (name) => `arm-none-eabi-${name}`,
  packages: 'gcc-arm-none-eabi libnewlib-arm-none-eabi',
  /** It starts from the vector table at the beginning of its flash. */
  bootObjects: () => [],
  flashBase: 0,
  isRam: (address) => address >= 0x2000_0000 && address < 0x2002_0000,
  flashLimitBytes: 160 * KIB,
  ramLimitBytes: 104 * KIB,
  /** Whoever reads the flash while it is busy is held up by the chip, and gets what it wanted (reference manual, NVMC). */
  flashWaits: true,
  mainProgram: 'reset',
  /** 8 registers and a word to align them (ARMv6-M manual, B1.5.6), and what interrupts.c puts between them and the handler. */
  exceptionFrameBytes: 36 + 24,
};

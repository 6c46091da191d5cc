import type { RP2040 } from 'rp2040js';

/**
 * The part of the boot ROM that a program asks for its functions (RP2040 datasheet section 2.8.3): pointers of half a word
 * at fixed places, a table of two letters and a pointer each, ended by zero, and a function that looks one up in it. The
 * code is our own; of the functions there is the one that makes the board a drive, and it stops the emulator.
 */
const TABLE_POINTER = 0x14;
const LOOKUP_POINTER = 0x18;
const TABLE = 0x100;
const LOOKUP = 0x180;
const RESET_USB_BOOT = 0x1c0;
const THUMB = 1;

/** What the emulator is told when the function is called. */
export const resetUsbBootBreak = 0x55;

const lookup = [
  0x8802, // next:  ldrh r2, [r0]
  0x428a, //        cmp  r2, r1
  0xd004, //        beq  found
  0x3004, //        adds r0, #4
  0x2a00, //        cmp  r2, #0
  0xd1f9, //        bne  next
  0x2000, //        movs r0, #0
  0x4770, //        bx   lr
  0x8840, // found: ldrh r0, [r0, #2]
  0x4770, //        bx   lr
];
const resetUsbBoot = [0xbe00 | resetUsbBootBreak, 0xe7fe];
const code = (letters: string) => letters.charCodeAt(0) | (letters.charCodeAt(1) << 8);

/** Another function stands before it, as in the real table. */
const table = [code('P3'), LOOKUP + THUMB, code('UB'), RESET_USB_BOOT + THUMB, 0];

export function fillBootRom(chip: RP2040): void {
  const rom = new Uint16Array(chip.bootrom.buffer);
  rom[TABLE_POINTER / 2] = TABLE;
  rom[LOOKUP_POINTER / 2] = LOOKUP + THUMB;
  rom.set(table, TABLE / 2);
  rom.set(lookup, LOOKUP / 2);
  rom.set(resetUsbBoot, RESET_USB_BOOT / 2);
}

/* The chip's own boot program: it makes the board a drive that takes new firmware, and starts that. */
#ifndef TREADLE_CHIP_BOOT_PROGRAM_H
#define TREADLE_CHIP_BOOT_PROGRAM_H

/* Ends this run. Lamp off and flash at peace before. The next start has START_CAUSE_NEW_FIRMWARE. */
void boot_program_start(void) __attribute__((noreturn));

#endif

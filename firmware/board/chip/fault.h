/*
 * The way into a reset when something is wrong: lamp off, reason where a reset keeps it, reset; the next start
 * tells the core.
 */
#ifndef TREADLE_CHIP_FAULT_H
#define TREADLE_CHIP_FAULT_H

#include <stdint.h>

#include "generated/limits.h" /* START_CAUSE_ */

/*
 * The board layer's own reasons; the core logs them as the `detail` of a start with cause trap. Numbers below
 * 16 are wasm traps, as wasm_rt_trap_t numbers them.
 */
enum fault {
    FAULT_HARD = 16,          /* the processor's HardFault */
    FAULT_LAMP_LIMIT = 17,    /* the lamp was still on when its second alarm came */
    FAULT_LAMP_BY_LINE = 18,  /* the core asked for light while it was handling bytes from the serial line */
    FAULT_BAD_ADDRESS = 19,   /* the core handed over a buffer outside its memory */
    FAULT_STRAY = 20,         /* an interrupt that nobody enabled */
    FAULT_WAY_BY_LINE = 21,   /* the core would make way for new firmware while it was handling the serial line */
};

/* What the last run left for this one: a START_CAUSE_ of the schema and its detail. */
struct start_reason {
    uint32_t cause;
    uint32_t detail;
};

/* Ends this run. */
void fault_stop(uint32_t cause, uint32_t detail) __attribute__((noreturn));

/* Why this run began; forgets it, so that the next start does not repeat it. */
struct start_reason fault_take_reason(void);

#endif

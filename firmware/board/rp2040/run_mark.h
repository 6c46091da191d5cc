/*
 * A word that a reset keeps and losing power does not: that this firmware has run since. The boot program, too, starts
 * it by the watchdog, and that is no hang.
 */
#ifndef TREADLE_RUN_MARK_H
#define TREADLE_RUN_MARK_H

#include <stdbool.h>

#include "registers.h"

#define RUN_MARK 0x52554e53u /* "SNUR" */

enum { SCRATCH_RUN_MARK = 3 };

static inline bool run_mark_is_set(void) { return WATCHDOG_SCRATCH(SCRATCH_RUN_MARK) == RUN_MARK; }
static inline void run_mark_set(void) { WATCHDOG_SCRATCH(SCRATCH_RUN_MARK) = RUN_MARK; }
static inline void run_mark_clear(void) { WATCHDOG_SCRATCH(SCRATCH_RUN_MARK) = 0; }

#endif

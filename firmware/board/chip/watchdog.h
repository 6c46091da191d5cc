/*
 * The watchdog: whoever stops feeding it loses the lamp. A reset takes everything but the oscillators with it,
 * and a pin in reset lets its relay go.
 */
#ifndef TREADLE_CHIP_WATCHDOG_H
#define TREADLE_CHIP_WATCHDOG_H

#include <stdint.h>

/* How long the main loop may be silent, and how long the core may take to read its storage at start. */
#define WATCHDOG_US 250000u
#define WATCHDOG_START_US 8000000u

void watchdog_start(void);

/* Grants another `us`, at most WATCHDOG_START_US. */
void watchdog_feed(uint32_t us);

#endif

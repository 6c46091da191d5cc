/*
 * This chip's watchdog waits for one time that cannot be changed once it runs. It gets a short one, and the tick reloads it
 * for as long as the main loop was granted; a tick that does not come any more is noticed just the same.
 */
#include "chip/watchdog.h"

#include "chip/clock.h"
#include "watchdog_tick.h"
#include "registers.h"

enum { CRYSTAL_HZ = 32768, WAIT_MS = 50, RELOAD_0 = 1 << 0, RUNS_WHILE_ASLEEP = 1 << 0 };
#define RELOAD 0x6e524635u

static volatile uint32_t granted_at_us;
static volatile uint32_t granted_us;

/* The time last, so that the tick never sees a long one with an old beginning. */
IN_RAM void watchdog_feed(uint32_t us) {
    granted_at_us = clock_low_us();
    granted_us = us;
}

IN_RAM void watchdog_tick(void) {
    if (clock_low_us() - granted_at_us < granted_us) WDT_RR(0) = RELOAD;
}

void watchdog_start(void) {
    WDT_CRV = CRYSTAL_HZ * WAIT_MS / 1000 - 1;
    WDT_RREN = RELOAD_0;
    WDT_CONFIG = RUNS_WHILE_ASLEEP;
    watchdog_feed(WATCHDOG_START_US);
    WDT_TASKS_START = 1;
}

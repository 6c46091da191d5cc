#include "chip/watchdog.h"

#include "chip/memory.h"
#include "registers.h"

/* Everything but the two oscillators, section 2.13.5; their bits are 0 and 1 of 17 (psm.h). */
#define WDSEL_ALL_BUT_OSCILLATORS 0x1fffcu

/* The counter has 24 bits and falls by two each microsecond (erratum RP2040-E1; the SDK's hardware_watchdog). */
_Static_assert(WATCHDOG_START_US * 2 < 1u << 24, "the watchdog's counter is shorter than that");

IN_RAM void watchdog_feed(uint32_t us) { WATCHDOG_LOAD = us * 2; }

void watchdog_start(void) {
    PSM_WDSEL = WDSEL_ALL_BUT_OSCILLATORS;
    watchdog_feed(WATCHDOG_START_US);
    CLEAR_ALIAS(WATCHDOG_CTRL) = WATCHDOG_CTRL_PAUSE;
    SET_ALIAS(WATCHDOG_CTRL) = WATCHDOG_CTRL_ENABLE;
}

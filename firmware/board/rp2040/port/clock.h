/* The timer, RP2040 datasheet section 4.6; it counts the watchdog's tick. */
#ifndef TREADLE_PORT_CLOCK_H
#define TREADLE_PORT_CLOCK_H

#include "../registers.h"

ALWAYS_INLINE uint32_t clock_low_us(void) { return TIMER_TIMERAWL; }

/* Reads again if the low half overflowed in between. */
ALWAYS_INLINE uint64_t clock_now_us(void) {
    for (;;) {
        uint32_t high = TIMER_TIMERAWH;
        uint32_t low = TIMER_TIMERAWL;
        if (high == TIMER_TIMERAWH) return ((uint64_t)high << 32) | low;
    }
}

#endif

/* Timer 0, 16 MHz divided by 2^4. It has 32 bits; the high half of the time is counted by whoever reads it, far more often than every 71 minutes. */
#ifndef TREADLE_PORT_CLOCK_H
#define TREADLE_PORT_CLOCK_H

#include "../registers.h"

enum { CLOCK_PRESCALER = 4, CLOCK_READS_AT = 3 };

ALWAYS_INLINE uint32_t clock_low_us(void) {
    TIMER_TASKS_CAPTURE(0, CLOCK_READS_AT) = 1;
    return TIMER_CC(0, CLOCK_READS_AT);
}

uint64_t clock_extend(void);

ALWAYS_INLINE uint64_t clock_now_us(void) { return clock_extend(); }

#endif

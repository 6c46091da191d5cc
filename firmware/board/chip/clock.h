/* The board's one clock: microseconds since the start, from a crystal. The chip's port has the bodies. */
#ifndef TREADLE_CHIP_CLOCK_H
#define TREADLE_CHIP_CLOCK_H

#include <stdint.h>

#include "memory.h"

/* The low half of the time, enough for differences under 71 minutes. */
ALWAYS_INLINE uint32_t clock_low_us(void);

/* The time. */
ALWAYS_INLINE uint64_t clock_now_us(void);

#include <port/clock.h>

#endif

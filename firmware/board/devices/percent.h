/* Shares of a whole, as the core hands them over. */
#ifndef TREADLE_PERCENT_H
#define TREADLE_PERCENT_H

#include <stdint.h>

enum { FULL_PERCENT = 100 };

/* What a share can be: 0 to 100. */
static inline uint32_t percent(int32_t value) {
    if (value < 0) return 0;
    return value > FULL_PERCENT ? FULL_PERCENT : (uint32_t)value;
}

#endif

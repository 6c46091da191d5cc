#include "clocks.h"

#include "chip/clock.h"

enum { BITS_32 = 3, LFCLK_FROM_RC = 0 };

static uint32_t last_low;
static uint32_t high;

/* The low-frequency clock is the watchdog's. */
void clocks_start(void) {
    CLOCK_EVENTS_HFCLKSTARTED = 0;
    CLOCK_TASKS_HFCLKSTART = 1;
    while (CLOCK_EVENTS_HFCLKSTARTED == 0) {
    }
    CLOCK_LFCLKSRC = LFCLK_FROM_RC;
    CLOCK_TASKS_LFCLKSTART = 1;
    TIMER_BITMODE(0) = BITS_32;
    TIMER_PRESCALER(0) = CLOCK_PRESCALER;
    TIMER_TASKS_START(0) = 1;
}

/* Called from interrupts and from below: whoever held them off before still does. */
IN_RAM uint64_t clock_extend(void) {
    uint32_t held;
    __asm__ volatile("mrs %0, primask\n\tcpsid i" : "=r"(held)::"memory");
    uint32_t low = clock_low_us();
    if (low < last_low) high++;
    last_low = low;
    uint64_t now_us = ((uint64_t)high << 32) | low;
    __asm__ volatile("msr primask, %0" ::"r"(held) : "memory");
    return now_us;
}

#include "sleep.h"

#include <stdbool.h>

#include "clock.h"
#include "events.h"

static volatile bool ticked;

ALWAYS_INLINE void wait_for_interrupt(void) { __asm__ volatile("dsb\n\twfi" ::: "memory"); }

IN_RAM void sleep_tick_interrupt(void) {
    TIMER_INTR = 1u << ALARM_TICK;
    ticked = true;
}

/* An alarm matches one microsecond only (section 4.6.3): one that was set too late is noticed by the clock. */
IN_RAM void sleep_until(uint64_t until_us) {
    ticked = false;
    TIMER_ALARM(ALARM_TICK) = (uint32_t)until_us;
    interrupts_off();
    if (!ticked && !events_are_waiting() && clock_now_us() < until_us) wait_for_interrupt();
    interrupts_on();
}

IN_RAM void sleep_for_us(uint32_t us) {
    ticked = false;
    uint32_t from_us = clock_low_us();
    TIMER_ALARM(ALARM_TICK) = from_us + us;
    interrupts_off();
    if (!ticked && clock_low_us() - from_us < us) wait_for_interrupt();
    interrupts_on();
}

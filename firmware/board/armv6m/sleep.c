/*
 * The check for news and the sleep are one step with interrupts held off, so that an event between the two is
 * not slept through; both are in RAM, so that the lamp's alarm is held off for a few dozen cycles only.
 */
#include "chip/sleep.h"

#include "chip/alarm.h"
#include "chip/clock.h"
#include "chip/interrupts.h"

struct wake_news wake_news;

static volatile bool ticked;

ALWAYS_INLINE void wait_for_interrupt(void) { __asm__ volatile("dsb\n\twfi" ::: "memory"); }

IN_RAM void sleep_tick_interrupt(void) {
    alarm_acknowledge(ALARM_TICK);
    ticked = true;
}

/* An alarm matches one microsecond only (section 4.6.3): one that was set too late is noticed by the clock. */
IN_RAM void sleep_until(uint64_t until_us) {
    ticked = false;
    alarm_set(ALARM_TICK, (uint32_t)until_us);
    interrupts_off();
    if (!ticked && !wake_news.is_there && clock_now_us() < until_us) wait_for_interrupt();
    interrupts_on();
}

IN_RAM void sleep_for_us(uint32_t us) {
    ticked = false;
    uint32_t from_us = clock_low_us();
    alarm_set(ALARM_TICK, from_us + us);
    interrupts_off();
    if (!ticked && clock_low_us() - from_us < us) wait_for_interrupt();
    interrupts_on();
}

/*
 * Timer 0 has four comparators: three alarms, and one that reads the clock. The fourth alarm, which only ends a sleep, is
 * looked after by the tick (tick.h).
 */
#ifndef TREADLE_PORT_ALARM_H
#define TREADLE_PORT_ALARM_H

#include "../registers.h"
#include "../tick.h"

ALWAYS_INLINE void alarm_set(enum alarm alarm, uint32_t at_low_us) {
    if (alarm == ALARM_TICK) {
        tick_alarm_us = at_low_us;
        tick_alarm_is_set = true;
        return;
    }
    TIMER_EVENTS_COMPARE(0, alarm) = 0;
    TIMER_CC(0, alarm) = at_low_us;
    TIMER_INTENSET(0) = TIMER_INT_COMPARE(alarm);
}

ALWAYS_INLINE void alarm_cancel_lamp(void) {
    TIMER_INTENCLR(0) = TIMER_INT_COMPARE(ALARM_LAMP_OFF) | TIMER_INT_COMPARE(ALARM_LAMP_LIMIT);
}

/* Its comparator would match again after 71 minutes. */
ALWAYS_INLINE void alarm_acknowledge(enum alarm alarm) {
    if (alarm == ALARM_TICK) {
        tick_alarm_is_set = false;
        return;
    }
    TIMER_INTENCLR(0) = TIMER_INT_COMPARE(alarm);
    TIMER_EVENTS_COMPARE(0, alarm) = 0;
}

#endif

/* Section 4.6.3: an alarm is armed by writing it and disarmed by writing its bit to ARMED. */
#ifndef TREADLE_PORT_ALARM_H
#define TREADLE_PORT_ALARM_H

#include "../registers.h"

ALWAYS_INLINE void alarm_set(enum alarm alarm, uint32_t at_low_us) { TIMER_ALARM(alarm) = at_low_us; }

ALWAYS_INLINE void alarm_cancel_lamp(void) { TIMER_ARMED = (1u << ALARM_LAMP_OFF) | (1u << ALARM_LAMP_LIMIT); }

ALWAYS_INLINE void alarm_acknowledge(enum alarm alarm) { TIMER_INTR = 1u << alarm; }

#endif

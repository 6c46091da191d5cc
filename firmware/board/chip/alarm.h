/*
 * Four alarms on the clock. One compares the clock's low half and may match its one microsecond only: whoever sets
 * one looks at the clock afterwards, in case it was set too late.
 */
#ifndef TREADLE_CHIP_ALARM_H
#define TREADLE_CHIP_ALARM_H

#include <stdint.h>

#include "memory.h"

/* Who uses which. */
enum alarm { ALARM_LAMP_OFF, ALARM_LAMP_LIMIT, ALARM_DEADLINE, ALARM_TICK };

/* Alarms compare 32 bits; one further away than this would come too early. */
enum { ALARM_REACH_US = 0x40000000 };

/* Interrupts when the clock's low half is `at_low_us`; a later call moves it. */
ALWAYS_INLINE void alarm_set(enum alarm alarm, uint32_t at_low_us);

/* Neither of the lamp's two alarms will come any more. */
ALWAYS_INLINE void alarm_cancel_lamp(void);

/* In its interrupt: it has been seen. */
ALWAYS_INLINE void alarm_acknowledge(enum alarm alarm);

#include <port/alarm.h>

#endif

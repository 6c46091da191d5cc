/*
 * Once a millisecond timer 1 interrupts for whatever has no interrupt of its own here: contacts are looked at, a sleep
 * that is over ends, and the watchdog is told that it may go on waiting.
 */
#ifndef TREADLE_NRF51_TICK_H
#define TREADLE_NRF51_TICK_H

#include <stdbool.h>
#include <stdint.h>

extern volatile uint32_t tick_alarm_us;
extern volatile bool tick_alarm_is_set;

void tick_start(void);

/* In its interrupt: whether the sleep's alarm is due. */
bool tick_ends_sleep(void);

/* In its interrupt: it has been seen. */
void tick_acknowledge(void);

#endif

/*
 * Sleeping until an interrupt. The check for work and the sleep are one step with interrupts held off, so that
 * an event between the two is not slept through; both are in RAM, so that the lamp's alarm is held off for a few
 * dozen cycles only.
 */
#ifndef TREADLE_SLEEP_H
#define TREADLE_SLEEP_H

#include <stdint.h>

/* Sleeps until something happened that the main loop must look at, or until `until_us`. */
void sleep_until(uint64_t until_us);

/* Sleeps for `us` or until any interrupt. */
void sleep_for_us(uint32_t us);

void sleep_tick_interrupt(void);

#endif

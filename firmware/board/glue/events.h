/*
 * From the board's parts to the core: every event in order of time, one at a time, from the main loop.
 */
#ifndef TREADLE_EVENTS_H
#define TREADLE_EVENTS_H

#include <stdbool.h>
#include <stdint.h>

/* Brings up the core and gives it its first event. */
void events_start(uint32_t cause, uint32_t detail);

/* Hands the core the oldest event; false if there is none. */
bool events_deliver_next(void);

#endif

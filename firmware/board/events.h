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

/* Whether the main loop has anything to do. */
bool events_are_waiting(void);

/* Whether something waits that a flash operation should make way for. */
bool events_are_urgent(void);

/* Asks for a deadline event at `at_us`; INT64_MAX for none. */
void events_wake_at(int64_t at_us);

/* Whether the core is handling something that came over the serial line. */
bool events_line_is_speaking(void);

void events_deadline_interrupt(void);

#endif

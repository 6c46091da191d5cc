/* The one time at which the core asked to be called. */
#ifndef TREADLE_DEADLINE_H
#define TREADLE_DEADLINE_H

#include <stdbool.h>
#include <stdint.h>

#define NO_DEADLINE ((uint64_t)INT64_MAX)

/* Asks for a deadline event at `at_us`; INT64_MAX for none. */
void deadline_set(int64_t at_us);

/* Sets the alarm, if the deadline is near enough for one. The main loop does it at least once a tick. */
void deadline_arm(void);

/* The time that was asked for once it has come, NO_DEADLINE before. */
uint64_t deadline_due_us(void);

void deadline_forget(void);

void deadline_interrupt(void);

#endif

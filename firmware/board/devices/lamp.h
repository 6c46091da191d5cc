/*
 * The lamp's relay. On by command, off by the timer alarm's interrupt, which nothing outranks and which runs
 * from RAM; a second alarm checks that it did. The main loop has no part in the off-edge.
 */
#ifndef TREADLE_LAMP_H
#define TREADLE_LAMP_H

#include <stdbool.h>
#include <stdint.h>

/* How long after its end an exposure may still be found burning before the second alarm stops the board. */
#define LAMP_GRACE_US 5000u

/* Lamp on for `on_us`; a lamp that is on already stays as it is. 0 only reports an exposure of 0. */
void lamp_on_for(uint32_t on_us);

/* Lamp off at once; harmless when it is off. */
void lamp_off(void);

bool lamp_is_on(void);

/* Whether an exposure has ended that was not yet reported, and when; `lamp_take_ended` gives its length. */
bool lamp_has_ended(uint64_t *at_us);
uint32_t lamp_take_ended(void);

void lamp_off_interrupt(void);
void lamp_limit_interrupt(void);

#endif

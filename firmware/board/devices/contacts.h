/*
 * Pedal and knob. Every edge is stamped in the pins' interrupt and queued raw, bounces and all; the knob's two
 * phases are decoded to detents there. If more edges come than the queue holds, what is lost is their number:
 * the queue goes on from the contacts' present state.
 */
#ifndef TREADLE_CONTACTS_H
#define TREADLE_CONTACTS_H

#include <stdbool.h>
#include <stdint.h>

enum contact { CONTACT_PEDAL, CONTACT_KNOB_PUSH, CONTACT_KNOB_TURN };

/* Something a contact did: for the pedal and the push `value` is 1 for down, for the knob's turn +1 or -1. */
struct contact_event {
    uint64_t at_us;
    int8_t contact;
    int8_t value;
};

void contacts_start(void);

/* The oldest event without taking it; false if there is none. */
bool contacts_peek(struct contact_event *event);

void contacts_drop(void);

void contacts_interrupt(void);

#endif

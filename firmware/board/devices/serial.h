/*
 * The serial line to the laptop, by whichever cable it comes. A conversation belongs to the cable that it began on:
 * what comes by the other waits until this one is pulled, or its laptop has said nothing for 8 s.
 */
#ifndef TREADLE_SERIAL_H
#define TREADLE_SERIAL_H

#include <stdbool.h>
#include <stdint.h>

void serial_start(void);

/* Queues all of `bytes` or nothing; after a refusal `serial_has_room_again` turns true once a line fits. */
bool serial_send(const uint8_t *bytes, uint32_t length);

bool serial_has_room_again(void);

/* The oldest byte received, or -1. */
int32_t serial_take(void);

/* Looks after cables that hang; to be called at least every tenth of a second. */
void serial_poll(uint64_t now_us);

/* The sticky counter of a LinkFault; 0 for a number that is none. */
uint32_t serial_faults(uint32_t which);

#endif

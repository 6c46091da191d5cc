/*
 * The serial line: a ring for each direction, fed and emptied by its interrupt (in RAM, so that it
 * goes on while the flash is busy). Bytes that arrive damaged are dropped and counted.
 */
#ifndef TREADLE_SERIAL_H
#define TREADLE_SERIAL_H

#include <stdbool.h>
#include <stdint.h>

#ifndef SERIAL_BAUD
#define SERIAL_BAUD 115200u
#endif

void serial_start(void);

/* Queues all of `bytes` or nothing; after a refusal `serial_has_room_again` turns true once a line fits. */
bool serial_send(const uint8_t *bytes, uint32_t length);

bool serial_has_room_again(void);

/* The oldest byte received, or -1. */
int32_t serial_take(void);

/* The sticky counter of a LinkFault; 0 for a number that is none. */
uint32_t serial_faults(uint32_t which);

void serial_interrupt(void);

#endif

/*
 * The line over the UART: a ring for each direction, fed and emptied by its interrupt (in RAM, so that it
 * goes on while the flash is busy). Bytes that arrive damaged are dropped and counted.
 */
#ifndef TREADLE_UART_LINE_H
#define TREADLE_UART_LINE_H

#include <stdbool.h>
#include <stdint.h>

#ifndef SERIAL_BAUD
#define SERIAL_BAUD 115200u
#endif

void uart_line_start(void);

/* Bytes that could be queued now. */
uint32_t uart_line_room(void);

/* Queues all of `bytes`, for which there must be room. */
void uart_line_send(const uint8_t *bytes, uint32_t length);

/* Forgets what is queued. */
void uart_line_drop_unsent(void);

bool uart_line_has_received(void);

/* The oldest byte received, or -1. */
int32_t uart_line_take(void);

/* The sticky counter of a LinkFault; 0 for a number that is none. */
uint32_t uart_line_faults(uint32_t which);

void uart_line_interrupt(void);

#endif

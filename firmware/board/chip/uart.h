/*
 * The serial line's hardware, 8 data bits, no parity. An entry that is taken is the byte, and above it the bits
 * that the chip's port names UART_OVERRUN, UART_BREAK, UART_PARITY and UART_FRAMING.
 */
#ifndef TREADLE_CHIP_UART_H
#define TREADLE_CHIP_UART_H

#include <stdbool.h>
#include <stdint.h>

#include "memory.h"

/* From now on its interrupt comes for bytes received. */
void uart_start(uint32_t baud);

ALWAYS_INLINE bool uart_has_received(void);
ALWAYS_INLINE uint32_t uart_take(void);

ALWAYS_INLINE bool uart_has_room(void);
ALWAYS_INLINE void uart_put(uint8_t byte);

/* Whether its interrupt also comes for room to send. */
ALWAYS_INLINE void uart_interrupt_for_room(bool is_wanted);

/* In its interrupt, first: it has been seen. */
ALWAYS_INLINE void uart_acknowledge(void);

/* Holds off its interrupt, and no other. */
ALWAYS_INLINE void uart_hold_off(void);
ALWAYS_INLINE void uart_let_in(void);

#include <port/uart.h>

#endif

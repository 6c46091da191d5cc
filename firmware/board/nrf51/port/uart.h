/* The bits of ERRORSRC above a byte. There is no queue for sending: a byte's room is there when the last one has gone. */
#ifndef TREADLE_PORT_UART_H
#define TREADLE_PORT_UART_H

#include "../registers.h"

enum {
    UART_OVERRUN = 1 << 8,
    UART_PARITY = 1 << 9,
    UART_FRAMING = 1 << 10,
    UART_BREAK = 1 << 11,
    UART_ERRORS = 0xf,
    UART_INT_RXDRDY = 1 << 2,
    UART_INT_TXDRDY = 1 << 7,
};

extern volatile bool uart_is_sending;

ALWAYS_INLINE bool uart_has_received(void) { return UART_EVENTS_RXDRDY != 0; }

/* The event first: it comes again for the next byte of the queue as soon as this one is read. */
ALWAYS_INLINE uint32_t uart_take(void) {
    UART_EVENTS_RXDRDY = 0;
    uint32_t errors = UART_ERRORSRC & UART_ERRORS;
    UART_ERRORSRC = errors;
    return (UART_RXD & 0xff) | (errors << 8);
}

ALWAYS_INLINE bool uart_has_room(void) {
    if (!uart_is_sending) return true;
    if (UART_EVENTS_TXDRDY == 0) return false;
    UART_EVENTS_TXDRDY = 0;
    uart_is_sending = false;
    return true;
}

ALWAYS_INLINE void uart_put(uint8_t byte) {
    uart_is_sending = true;
    UART_TXD = byte;
}

ALWAYS_INLINE void uart_interrupt_for_room(bool is_wanted) {
    if (is_wanted) UART_INTENSET = UART_INT_TXDRDY;
    else UART_INTENCLR = UART_INT_TXDRDY;
}

/* Each event is forgotten where what it tells of is taken. */
ALWAYS_INLINE void uart_acknowledge(void) {}

ALWAYS_INLINE void uart_hold_off(void) { NVIC_ICER = 1u << IRQ_UART; }
ALWAYS_INLINE void uart_let_in(void) { NVIC_ISER = 1u << IRQ_UART; }

#endif

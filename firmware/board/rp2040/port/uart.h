/* Section 4.2.8, as the PL011's manual numbers the bits (the vendor's uart.h). */
#ifndef TREADLE_PORT_UART_H
#define TREADLE_PORT_UART_H

#include "../registers.h"

enum {
    UART_FRAMING = 1 << 8,
    UART_PARITY = 1 << 9,
    UART_BREAK = 1 << 10,
    UART_OVERRUN = 1 << 11,
    UART_FR_RECEIVE_EMPTY = 1 << 4,
    UART_FR_SEND_FULL = 1 << 5,
    UART_INTERRUPT_RECEIVE = 1 << 4,
    UART_INTERRUPT_SEND = 1 << 5,
    UART_INTERRUPT_RECEIVE_TIMEOUT = 1 << 6,
};

ALWAYS_INLINE bool uart_has_received(void) { return !(UART0_UARTFR & UART_FR_RECEIVE_EMPTY); }

ALWAYS_INLINE uint32_t uart_take(void) { return UART0_UARTDR; }

ALWAYS_INLINE bool uart_has_room(void) { return !(UART0_UARTFR & UART_FR_SEND_FULL); }

ALWAYS_INLINE void uart_put(uint8_t byte) { UART0_UARTDR = byte; }

ALWAYS_INLINE void uart_interrupt_for_room(bool is_wanted) {
    if (is_wanted) SET_ALIAS(UART0_UARTIMSC) = UART_INTERRUPT_SEND;
    else CLEAR_ALIAS(UART0_UARTIMSC) = UART_INTERRUPT_SEND;
}

ALWAYS_INLINE void uart_acknowledge(void) {
    UART0_UARTICR = UART_INTERRUPT_RECEIVE | UART_INTERRUPT_RECEIVE_TIMEOUT | UART_INTERRUPT_SEND;
}

ALWAYS_INLINE void uart_hold_off(void) { NVIC_ICER = 1u << IRQ_UART0; }
ALWAYS_INLINE void uart_let_in(void) { NVIC_ISER = 1u << IRQ_UART0; }

#endif

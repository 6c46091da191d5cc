#include "chip/uart.h"

#include "clocks.h"

/* The vendor's uart.h: word length and FIFOs; send, receive and the block itself; levels of half and an eighth. */
enum {
    LCR_H_8N1_FIFOS = (3 << 5) | (1 << 4),
    CR_ENABLE = (1 << 9) | (1 << 8) | (1 << 0),
    IFLS_RECEIVE_HALF_SEND_EIGHTH = (2 << 3) | 0,
};

/*
 * The divider in 64ths, section 4.2.7.1, rounded as the SDK's hardware_uart does: 125 MHz at 115200 baud is 67 + 52/64,
 * 0.006 % fast.
 */
void uart_start(uint32_t baud) {
    uint32_t divider_64ths = (SYSTEM_HZ * 4 + baud / 2) / baud;
    UART0_UARTIBRD = divider_64ths >> 6;
    UART0_UARTFBRD = divider_64ths & 63;
    UART0_UARTLCR_H = LCR_H_8N1_FIFOS;
    UART0_UARTIFLS = IFLS_RECEIVE_HALF_SEND_EIGHTH;
    UART0_UARTIMSC = UART_INTERRUPT_RECEIVE | UART_INTERRUPT_RECEIVE_TIMEOUT;
    UART0_UARTCR = CR_ENABLE;
}

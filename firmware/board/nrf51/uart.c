#include "chip/uart.h"

#include "chip/pin.h"

enum { UART_ENABLED = 4 };

volatile bool uart_is_sending;

/* BAUDRATE in 2^32 / 16 MHz, in steps of 4096; the reference manual's table has 0x01d7e000 for 115200. */
void uart_start(uint32_t baud) {
    UART_PSELTXD = PIN_UART_TX;
    UART_PSELRXD = PIN_UART_RX;
    UART_BAUDRATE = (uint32_t)((((uint64_t)baud << 32) / 16000000u + 0x800u) & ~(uint64_t)0xfffu);
    UART_ENABLE = UART_ENABLED;
    UART_EVENTS_RXDRDY = 0;
    UART_EVENTS_TXDRDY = 0;
    UART_TASKS_STARTTX = 1;
    UART_TASKS_STARTRX = 1;
    UART_INTENSET = UART_INT_RXDRDY;
}

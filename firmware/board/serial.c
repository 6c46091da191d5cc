#include "serial.h"

#include "clock.h"
#include "generated/limits.h"

/* Powers of two. Receiving: two lines and what comes in during an erase that a pedal does not cut short. */
enum { RECEIVE_RING = 2048, SEND_RING = 1024 };
_Static_assert(RECEIVE_RING >= 2 * TREADLE_LINE_BYTES, "the receive ring must hold two lines");
_Static_assert(SEND_RING >= 2 * TREADLE_LINE_BYTES, "the send ring must hold a line beside one on its way");

/* Section 4.2.8, as the PL011's manual numbers the bits. */
enum {
    DR_FRAMING = 1 << 8,
    DR_PARITY = 1 << 9,
    DR_BREAK = 1 << 10,
    DR_OVERRUN = 1 << 11,
    DR_DAMAGED = DR_FRAMING | DR_PARITY | DR_BREAK,
    FR_RECEIVE_EMPTY = 1 << 4,
    FR_SEND_FULL = 1 << 5,
    LCR_H_8N1_FIFOS = (3 << 5) | (1 << 4),
    CR_ENABLE = (1 << 9) | (1 << 8) | (1 << 0),
    IFLS_RECEIVE_HALF_SEND_EIGHTH = (2 << 3) | 0,
    INTERRUPT_RECEIVE = 1 << 4,
    INTERRUPT_SEND = 1 << 5,
    INTERRUPT_RECEIVE_TIMEOUT = 1 << 6,
};

enum { FAULT_KINDS = LINK_FAULT_LOST_IN_RING + 1 };

static uint8_t receive_ring[RECEIVE_RING];
static volatile uint32_t received;
static volatile uint32_t taken;

static uint8_t send_ring[SEND_RING];
static volatile uint32_t queued;
static volatile uint32_t sent;
static bool refused;

static volatile uint32_t faults[FAULT_KINDS];

ALWAYS_INLINE void count(uint32_t fault) { faults[fault] = faults[fault] + 1; }

/* A break shows as a framing error too; it is counted once, as what it is. */
ALWAYS_INLINE void count_damage(uint32_t entry) {
    if (entry & DR_BREAK) count(LINK_FAULT_BREAK);
    else if (entry & DR_FRAMING) count(LINK_FAULT_FRAMING);
    else if (entry & DR_PARITY) count(LINK_FAULT_PARITY);
}

ALWAYS_INLINE void keep(uint32_t entry) {
    if (entry & DR_OVERRUN) count(LINK_FAULT_OVERRUN);
    if (entry & DR_DAMAGED) {
        count_damage(entry);
        return;
    }
    if (received - taken == RECEIVE_RING) {
        count(LINK_FAULT_LOST_IN_RING);
        return;
    }
    receive_ring[received % RECEIVE_RING] = (uint8_t)entry;
    received = received + 1;
}

/* Fills the sending FIFO; the interrupt stays on only while there is more than it holds. */
ALWAYS_INLINE void feed_fifo(void) {
    while (queued != sent && !(UART0_UARTFR & FR_SEND_FULL)) {
        UART0_UARTDR = send_ring[sent % SEND_RING];
        sent = sent + 1;
    }
    if (queued == sent) CLEAR_ALIAS(UART0_UARTIMSC) = INTERRUPT_SEND;
    else SET_ALIAS(UART0_UARTIMSC) = INTERRUPT_SEND;
}

IN_RAM void serial_interrupt(void) {
    UART0_UARTICR = INTERRUPT_RECEIVE | INTERRUPT_RECEIVE_TIMEOUT | INTERRUPT_SEND;
    while (!(UART0_UARTFR & FR_RECEIVE_EMPTY)) keep(UART0_UARTDR);
    feed_fifo();
}

IN_RAM bool serial_send(const uint8_t *bytes, uint32_t length) {
    if (length > SEND_RING - (queued - sent)) {
        refused = true;
        return false;
    }
    for (uint32_t at = 0; at < length; at++) send_ring[(queued + at) % SEND_RING] = bytes[at];
    NVIC_ICER = 1u << IRQ_UART0;
    queued = queued + length;
    feed_fifo();
    NVIC_ISER = 1u << IRQ_UART0;
    return true;
}

bool serial_has_room_again(void) {
    if (!refused || SEND_RING - (queued - sent) < TREADLE_LINE_BYTES) return false;
    refused = false;
    return true;
}

IN_RAM int32_t serial_take(void) {
    if (received == taken) return -1;
    uint8_t byte = receive_ring[taken % RECEIVE_RING];
    taken = taken + 1;
    return byte;
}

IN_RAM bool serial_waiting(void) { return received != taken; }

IN_RAM bool serial_is_pressing(void) { return received - taken > RECEIVE_RING / 2; }

uint32_t serial_faults(uint32_t which) { return which < FAULT_KINDS ? faults[which] : 0; }

/* The divider in 64ths, section 4.2.7.1: 125 MHz at 115200 baud is 67 + 52/64, 0.006 % fast. */
void serial_start(void) {
    uint32_t divider_64ths = (SYSTEM_HZ * 4 + SERIAL_BAUD / 2) / SERIAL_BAUD;
    UART0_UARTIBRD = divider_64ths >> 6;
    UART0_UARTFBRD = divider_64ths & 63;
    UART0_UARTLCR_H = LCR_H_8N1_FIFOS;
    UART0_UARTIFLS = IFLS_RECEIVE_HALF_SEND_EIGHTH;
    UART0_UARTIMSC = INTERRUPT_RECEIVE | INTERRUPT_RECEIVE_TIMEOUT;
    UART0_UARTCR = CR_ENABLE;
}

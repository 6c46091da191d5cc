#include "uart_line.h"

#include "chip/sleep.h"
#include "chip/uart.h"
#include "generated/limits.h"

/* Powers of two. Receiving: two lines and what comes in during an erase that a pedal does not cut short. */
enum { RECEIVE_RING = 2048, SEND_RING = 1024 };
_Static_assert(RECEIVE_RING >= 2 * TREADLE_LINE_BYTES, "the receive ring must hold two lines");
_Static_assert(SEND_RING >= 2 * TREADLE_LINE_BYTES, "the send ring must hold a line beside one on its way");

enum { FAULT_KINDS = LINK_FAULT_LOST_IN_RING + 1 };

static uint8_t receive_ring[RECEIVE_RING];
static volatile uint32_t received;
static volatile uint32_t taken;

static uint8_t send_ring[SEND_RING];
static volatile uint32_t queued;
static volatile uint32_t sent;

static volatile uint32_t faults[FAULT_KINDS];

ALWAYS_INLINE void count(uint32_t fault) { faults[fault] = faults[fault] + 1; }

/* A break shows as a framing error too; it is counted once, as what it is. */
ALWAYS_INLINE void count_damage(uint32_t entry) {
    if (entry & UART_BREAK) count(LINK_FAULT_BREAK);
    else if (entry & UART_FRAMING) count(LINK_FAULT_FRAMING);
    else if (entry & UART_PARITY) count(LINK_FAULT_PARITY);
}

ALWAYS_INLINE void keep(uint32_t entry) {
    if (entry & UART_OVERRUN) count(LINK_FAULT_OVERRUN);
    if (entry & (UART_FRAMING | UART_PARITY | UART_BREAK)) {
        count_damage(entry);
        return;
    }
    if (received - taken == RECEIVE_RING) {
        count(LINK_FAULT_LOST_IN_RING);
        return;
    }
    receive_ring[received % RECEIVE_RING] = (uint8_t)entry;
    received = received + 1;
    if (received - taken > RECEIVE_RING / 2) wake_urgently();
    else wake();
}

/* Fills the sending FIFO; the interrupt stays on only while there is more than it holds. */
ALWAYS_INLINE void feed_fifo(void) {
    while (queued != sent && uart_has_room()) {
        uart_put(send_ring[sent % SEND_RING]);
        sent = sent + 1;
    }
    uart_interrupt_for_room(queued != sent);
}

IN_RAM void uart_line_interrupt(void) {
    uart_acknowledge();
    while (uart_has_received()) keep(uart_take());
    feed_fifo();
}

IN_RAM uint32_t uart_line_room(void) { return SEND_RING - (queued - sent); }

IN_RAM void uart_line_send(const uint8_t *bytes, uint32_t length) {
    for (uint32_t at = 0; at < length; at++) send_ring[(queued + at) % SEND_RING] = bytes[at];
    uart_hold_off();
    queued = queued + length;
    feed_fifo();
    uart_let_in();
}

IN_RAM void uart_line_drop_unsent(void) {
    uart_hold_off();
    queued = sent;
    feed_fifo();
    uart_let_in();
}

IN_RAM bool uart_line_has_received(void) { return received != taken; }

IN_RAM int32_t uart_line_take(void) {
    if (received == taken) return -1;
    uint8_t byte = receive_ring[taken % RECEIVE_RING];
    taken = taken + 1;
    return byte;
}

uint32_t uart_line_faults(uint32_t which) { return which < FAULT_KINDS ? faults[which] : 0; }

void uart_line_start(void) { uart_start(SERIAL_BAUD); }

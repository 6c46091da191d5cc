#include "serial.h"

#include "chip/clock.h"
#include "chip/memory.h"
#include "generated/limits.h"
#include "uart_line.h"
#include "usb_line.h"

/* A laptop that hears nothing asks every 5 s (its heartbeat), and repeats itself within a second. */
enum { SILENT_US = 8000000, LINE_FEED = 10 };

enum cable { CABLE_UART, CABLE_USB };

static enum cable owner;
static bool is_talking; /* since the start, somebody */
static uint64_t heard_us;
static bool refused;

ALWAYS_INLINE enum cable other(void) { return owner == CABLE_USB ? CABLE_UART : CABLE_USB; }

ALWAYS_INLINE bool has_received(enum cable cable) {
    return cable == CABLE_USB ? usb_line_has_received() : uart_line_has_received();
}

ALWAYS_INLINE uint32_t room(void) { return owner == CABLE_USB ? usb_line_room() : uart_line_room(); }

/* A UART does not know whether anything is at its other end. */
ALWAYS_INLINE bool is_pulled(enum cable cable) { return cable == CABLE_USB && !usb_line_is_open(); }

ALWAYS_INLINE bool is_free(uint64_t now_us) {
    return !is_talking || is_pulled(owner) || now_us - heard_us >= SILENT_US;
}

IN_RAM bool serial_send(const uint8_t *bytes, uint32_t length) {
    if (length > room()) {
        refused = true;
        return false;
    }
    if (owner == CABLE_USB) usb_line_send(bytes, length);
    else uart_line_send(bytes, length);
    return true;
}

bool serial_has_room_again(void) {
    if (!refused || room() < TREADLE_LINE_BYTES) return false;
    refused = false;
    return true;
}

/* The line feed ends whatever half a line the other cable left behind. */
IN_RAM static int32_t pass_to(enum cable cable) {
    if (owner == CABLE_USB) usb_line_drop_unsent();
    else uart_line_drop_unsent();
    owner = cable;
    return LINE_FEED;
}

IN_RAM int32_t serial_take(void) {
    uint64_t now_us = clock_now_us();
    bool passes = !has_received(owner) && has_received(other()) && is_free(now_us);
    if (!passes && !has_received(owner)) return -1;
    is_talking = true;
    heard_us = now_us;
    if (passes) return pass_to(other());
    return owner == CABLE_USB ? usb_line_take() : uart_line_take();
}

void serial_poll(uint64_t now_us) { usb_line_poll(now_us); }

uint32_t serial_faults(uint32_t which) { return uart_line_faults(which); }

void serial_start(void) {
    uart_line_start();
    usb_line_start();
}

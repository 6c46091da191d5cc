#include "usb_line.h"

#include "chip/sleep.h"
#include "chip/usb.h"
#include "generated/limits.h"
#include "usb_control.h"

/* Powers of two. */
enum { RECEIVE_RING = 512, SEND_RING = 1024 };
_Static_assert(RECEIVE_RING >= TREADLE_LINE_BYTES + USB_PACKET_BYTES, "the receive ring must hold a line and a packet");
_Static_assert(SEND_RING >= 2 * TREADLE_LINE_BYTES, "the send ring must hold a line beside one on its way");

/* Frames come every millisecond; a hub needs a while to see that a device has gone. */
enum { HANGS_US = 100000, DETACHED_US = 50000 };

static uint8_t receive_ring[RECEIVE_RING];
static volatile uint32_t received;
static volatile uint32_t taken;

static uint8_t send_ring[SEND_RING];
static volatile uint32_t queued;
static volatile uint32_t sent;

static volatile bool was_spoken_to;
static volatile bool ends_line; /* half a line may be left from before */
static volatile bool is_sending, is_receiving, was_full;
static uint32_t unheard; /* bytes that went nowhere since the main loop came by */

static uint32_t frame;
static uint64_t frame_us;
static bool is_detached;

IN_RAM static void forget_all(void) {
    queued = sent;
    taken = received;
    was_spoken_to = false;
    ends_line = true;
    was_full = false;
}

/* A packet that is exactly full is followed by an empty one, or the laptop would wait for more of it. */
IN_RAM static void send_next(void) {
    if (is_sending || !usb_is_configured()) return;
    uint32_t length = queued - sent;
    if (length == 0 && !was_full) return;
    if (length > USB_PACKET_BYTES) length = USB_PACKET_BYTES;
    uint8_t packet[USB_PACKET_BYTES];
    for (uint32_t at = 0; at < length; at++) packet[at] = send_ring[(sent + at) % SEND_RING];
    sent = sent + length;
    was_full = length == USB_PACKET_BYTES;
    is_sending = true;
    usb_give(USB_DATA_IN, packet, length);
}

/* A packet is asked for only when there is room for all of it. */
IN_RAM static void receive_next(void) {
    if (is_receiving || !usb_is_configured() || RECEIVE_RING - (received - taken) < USB_PACKET_BYTES) return;
    is_receiving = true;
    usb_await(USB_DATA_OUT);
}

IN_RAM static void keep_packet(void) {
    uint8_t packet[USB_PACKET_BYTES];
    uint32_t length = usb_received(USB_DATA_OUT, packet);
    for (uint32_t at = 0; at < length; at++) receive_ring[(received + at) % RECEIVE_RING] = packet[at];
    received = received + length;
    if (length > 0) {
        was_spoken_to = true;
        wake();
    }
}

IN_RAM static void move_data(void) {
    if (usb_take_done(USB_DATA_OUT)) {
        is_receiving = false;
        keep_packet();
    }
    if (usb_take_done(USB_DATA_IN)) {
        is_sending = false;
        wake();
    }
    receive_next();
    send_next();
}

IN_RAM void usb_line_interrupt(void) {
    uint32_t changes = usb_control_interrupt();
    if (changes & USB_PIPES_BEGIN_ANEW) {
        is_sending = false;
        is_receiving = false;
        forget_all();
    }
    if (changes & (USB_PORT_OPENED | USB_PORT_CLOSED)) forget_all();
    if (changes & USB_PORT_CLOSED) {
        usb_take_back(USB_DATA_IN);
        is_sending = false;
    }
    move_data();
}

IN_RAM bool usb_line_is_open(void) { return usb_is_configured() && !usb_is_suspended() && !usb_port_is_closed(); }

ALWAYS_INLINE bool somebody_listens(void) { return usb_is_configured() && was_spoken_to; }

/* What nobody listens to is let go, but not so much at once that somebody who sends until he is refused never ends. */
IN_RAM uint32_t usb_line_room(void) { return SEND_RING - (somebody_listens() ? queued - sent : unheard); }

IN_RAM void usb_line_send(const uint8_t *bytes, uint32_t length) {
    usb_hold_off();
    if (!somebody_listens()) {
        unheard += length;
    } else {
        for (uint32_t at = 0; at < length; at++) send_ring[(queued + at) % SEND_RING] = bytes[at];
        queued = queued + length;
        send_next();
    }
    usb_let_in();
}

IN_RAM void usb_line_drop_unsent(void) {
    usb_hold_off();
    queued = sent;
    was_spoken_to = false;
    usb_let_in();
}

IN_RAM bool usb_line_has_received(void) { return received != taken; }

IN_RAM int32_t usb_line_take(void) {
    usb_hold_off();
    int32_t byte = -1;
    if (received != taken) {
        byte = ends_line ? '\n' : receive_ring[taken % RECEIVE_RING];
        if (!ends_line) taken = taken + 1;
        ends_line = false;
        receive_next();
    }
    usb_let_in();
    return byte;
}

static void begin_anew(uint64_t now_us) {
    usb_hold_off();
    usb_control_forget();
    is_sending = false;
    is_receiving = false;
    forget_all();
    usb_detach();
    is_detached = true;
    frame_us = now_us;
}

static void attach_again(uint64_t now_us) {
    is_detached = false;
    frame_us = now_us;
    usb_attach();
    usb_let_in();
}

void usb_line_poll(uint64_t now_us) {
    unheard = 0;
    if (is_detached) {
        if (usb_has_power() && now_us - frame_us >= DETACHED_US) attach_again(now_us);
        return;
    }
    if (!usb_has_power()) {
        begin_anew(now_us);
        return;
    }
    uint32_t frame_now = usb_frame();
    if (frame_now != frame || !usb_is_configured() || usb_is_suspended()) {
        frame = frame_now;
        frame_us = now_us;
    } else if (now_us - frame_us >= HANGS_US) {
        begin_anew(now_us);
    }
}

void usb_line_start(void) {
    usb_control_start();
    is_detached = !usb_has_power();
    if (!is_detached) usb_attach();
}

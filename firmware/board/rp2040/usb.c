/*
 * The USB controller as a device, section 4.1; each pipe with a single buffer. Bits as in the vendor's usb.h and
 * usb_dpram.h (see registers.h).
 */
#include "chip/usb.h"

#include "bus_reset.h"
#include "registers.h"

enum {
    MAIN_CONTROLLER_ENABLE = 1 << 0,
    POWER_VBUS_THERE = (1 << 2) | (1 << 3), /* detected, by override: the board has its own supply */
    SIE_EACH_CONTROL_BUFFER = 1 << 29,
    SIE_PULL_UP = 1 << 16,
    STATUS_RESET = 1 << 19,
    STATUS_SETUP = 1 << 17,
    STATUS_RESUME = 1 << 11,
    STATUS_SUSPENDED = 1 << 4,
    INTERRUPT_BUFFERS = 1 << 4,
    INTERRUPT_RESET = 1 << 12,
    INTERRUPT_SUSPEND = 1 << 14,
    INTERRUPT_RESUME = 1 << 15,
    INTERRUPT_SETUP = 1 << 16,
    ENDPOINT_EACH_BUFFER = 1 << 29,
    ENDPOINT_BULK = 2 << 26,
    ENDPOINT_INTERRUPT = 3 << 26,
    BUFFER_FULL = 1 << 15,
    BUFFER_ODD = 1 << 13, /* DATA1 */
    BUFFER_STALL = 1 << 11,
    BUFFER_AVAILABLE = 1 << 10,
    BUFFER_LENGTH = 0x3ff,
    STALL_CONTROL = 3,
    DPRAM_CONTROL_BUFFER = 0x100,
    DPRAM_DATA_BUFFERS = 0x180,
};
#define ENDPOINT_ENABLE (1u << 31)
#define ENDPOINT_NONE 0u

/* Where a pipe's words and packet lie, section 4.1.2.5; its bit in BUFF_STATUS is its number among the buffer words. */
struct place {
    uint8_t number; /* 2 x endpoint, + 1 for OUT */
    uint16_t buffer;
    uint32_t control;
};

RAM_CONSTANT static const struct place places[USB_PIPES] = {
    [USB_CONTROL_IN] = {0, DPRAM_CONTROL_BUFFER, ENDPOINT_NONE},
    [USB_CONTROL_OUT] = {1, DPRAM_CONTROL_BUFFER, ENDPOINT_NONE},
    [USB_NOTICE_IN] = {2, DPRAM_DATA_BUFFERS, ENDPOINT_INTERRUPT},
    [USB_DATA_IN] = {4, DPRAM_DATA_BUFFERS + 1 * USB_PACKET_BYTES, ENDPOINT_BULK},
    [USB_DATA_OUT] = {5, DPRAM_DATA_BUFFERS + 2 * USB_PACKET_BYTES, ENDPOINT_BULK},
};

static struct {
    uint32_t offered; /* the buffer's word without its parity; 0 if it has no packet */
    bool is_odd, is_halted;
} pipes[USB_PIPES];

ALWAYS_INLINE bool is_control(enum usb_pipe pipe) { return places[pipe].control == ENDPOINT_NONE; }

/* AVAILABLE comes 12 cycles after the rest, so that the controller sees them in order (section 4.1.2.7.1). */
IN_RAM static void offer(enum usb_pipe pipe) {
    uint32_t word = pipes[pipe].offered | (pipes[pipe].is_odd ? BUFFER_ODD : 0);
    USB_BUFFER_CONTROL(places[pipe].number) = word & ~(uint32_t)BUFFER_AVAILABLE;
    for (uint32_t wait = 0; wait < 6; wait++) __asm__ volatile("nop\n\tnop");
    USB_BUFFER_CONTROL(places[pipe].number) = word;
}

IN_RAM static void forget(enum usb_pipe pipe, bool is_odd) {
    USB_BUFFER_CONTROL(places[pipe].number) = 0;
    pipes[pipe].offered = 0;
    pipes[pipe].is_odd = is_odd;
    pipes[pipe].is_halted = false;
    USB_BUFF_STATUS = 1u << places[pipe].number;
}

IN_RAM void usb_give(enum usb_pipe pipe, const uint8_t *bytes, uint32_t length) {
    for (uint32_t at = 0; at < length; at++) USB_DPRAM_BYTE(places[pipe].buffer + at) = bytes[at];
    pipes[pipe].offered = length | BUFFER_FULL | BUFFER_AVAILABLE;
    if (!pipes[pipe].is_halted) offer(pipe);
}

/* Without EP_ABORT (erratum E2): the laptop was told before this that its program has gone. */
IN_RAM void usb_take_back(enum usb_pipe pipe) {
    if (pipes[pipe].offered && !pipes[pipe].is_halted) USB_BUFFER_CONTROL(places[pipe].number) = 0;
    pipes[pipe].offered = 0;
}

IN_RAM void usb_await(enum usb_pipe pipe) {
    pipes[pipe].offered = USB_PACKET_BYTES | BUFFER_AVAILABLE;
    if (!pipes[pipe].is_halted) offer(pipe);
}

IN_RAM bool usb_take_done(enum usb_pipe pipe) {
    uint32_t bit = 1u << places[pipe].number;
    if (!(USB_BUFF_STATUS & bit)) return false;
    USB_BUFF_STATUS = bit;
    pipes[pipe].offered = 0;
    pipes[pipe].is_odd = !pipes[pipe].is_odd;
    return true;
}

IN_RAM uint32_t usb_received(enum usb_pipe pipe, uint8_t *into) {
    uint32_t length = USB_BUFFER_CONTROL(places[pipe].number) & BUFFER_LENGTH;
    if (length > USB_PACKET_BYTES) length = USB_PACKET_BYTES;
    for (uint32_t at = 0; at < length; at++) into[at] = USB_DPRAM_BYTE(places[pipe].buffer + at);
    return length;
}

IN_RAM void usb_take_setup(uint8_t *into) {
    for (uint32_t at = 0; at < USB_SETUP_BYTES; at++) into[at] = USB_DPRAM_BYTE(at);
    forget(USB_CONTROL_IN, true);
    forget(USB_CONTROL_OUT, true);
}

IN_RAM void usb_refuse_control(void) {
    USB_EP_STALL_ARM = STALL_CONTROL;
    USB_BUFFER_CONTROL(places[USB_CONTROL_IN].number) = BUFFER_STALL;
    USB_BUFFER_CONTROL(places[USB_CONTROL_OUT].number) = BUFFER_STALL;
}

IN_RAM void usb_set_address(uint32_t address) { USB_ADDR_ENDP = address; }

IN_RAM void usb_open_pipes(bool open) {
    for (enum usb_pipe pipe = 0; pipe < USB_PIPES; pipe++) {
        if (is_control(pipe)) continue;
        forget(pipe, false);
        uint32_t control = ENDPOINT_ENABLE | ENDPOINT_EACH_BUFFER | places[pipe].control | places[pipe].buffer;
        USB_ENDPOINT_CONTROL(places[pipe].number) = open ? control : 0;
    }
}

IN_RAM void usb_halt(enum usb_pipe pipe, bool halts) {
    pipes[pipe].is_halted = halts;
    if (halts) {
        USB_BUFFER_CONTROL(places[pipe].number) = BUFFER_STALL;
        return;
    }
    pipes[pipe].is_odd = false;
    if (pipes[pipe].offered) offer(pipe);
    else USB_BUFFER_CONTROL(places[pipe].number) = 0;
}

IN_RAM bool usb_is_halted(enum usb_pipe pipe) { return pipes[pipe].is_halted; }

IN_RAM void usb_begin_anew(void) {
    USB_ADDR_ENDP = 0;
    forget(USB_CONTROL_IN, true);
    forget(USB_CONTROL_OUT, true);
    usb_open_pipes(false);
}

IN_RAM uint32_t usb_take_news(void) {
    uint32_t raised = USB_INTS;
    uint32_t status = USB_SIE_STATUS;
    uint32_t news = 0;
    if (raised & INTERRUPT_RESET) news |= USB_NEWS_RESET;
    if (raised & INTERRUPT_SETUP) news |= USB_NEWS_SETUP;
    if (raised & INTERRUPT_SUSPEND && status & STATUS_SUSPENDED) news |= USB_NEWS_SUSPENDED;
    if (raised & INTERRUPT_RESUME) news |= USB_NEWS_RESUMED;
    if (news & USB_NEWS_RESET) bus_reset_attend();
    USB_SIE_STATUS = status & (STATUS_RESET | STATUS_SETUP | STATUS_RESUME | STATUS_SUSPENDED);
    return news;
}

IN_RAM uint32_t usb_frame(void) { return USB_SOF_RD; }

static void become_empty(void) {
    for (uint32_t at = 0; at < DPRAM_DATA_BUFFERS; at += 4) USB_DPRAM_WORD(at) = 0;
}

void usb_attach(void) {
    bus_reset_start();
    CLEAR_ALIAS(RESETS_RESET) = RESETS_USBCTRL;
    while (!(RESETS_RESET_DONE & RESETS_USBCTRL)) {
    }
    become_empty();
    USB_MUXING = MUXING_TO_BUS;
    USB_PWR = POWER_VBUS_THERE;
    USB_MAIN_CTRL = MAIN_CONTROLLER_ENABLE;
    USB_SIE_CTRL = SIE_EACH_CONTROL_BUFFER;
    USB_INTE = INTERRUPT_BUFFERS | INTERRUPT_RESET | INTERRUPT_SETUP | INTERRUPT_SUSPEND | INTERRUPT_RESUME;
    usb_begin_anew();
    USB_SIE_CTRL = SIE_EACH_CONTROL_BUFFER | SIE_PULL_UP;
}

void usb_detach(void) {
    bus_reset_leave();
    SET_ALIAS(RESETS_RESET) = RESETS_USBCTRL;
}

/*
 * A USB device's hardware, full speed, and the pipes of a serial port: each holds one packet, on its way to the laptop
 * or awaited from it. Everything here may be called from its interrupt, and while that is held off.
 */
#ifndef TREADLE_CHIP_USB_H
#define TREADLE_CHIP_USB_H

#include <stdbool.h>
#include <stdint.h>

#include "memory.h"

enum { USB_PACKET_BYTES = 64, USB_SETUP_BYTES = 8 };

enum usb_pipe { USB_CONTROL_IN, USB_CONTROL_OUT, USB_NOTICE_IN, USB_DATA_IN, USB_DATA_OUT, USB_PIPES };

enum { USB_NEWS_RESET = 1, USB_NEWS_SETUP = 2, USB_NEWS_SUSPENDED = 4, USB_NEWS_RESUMED = 8 };

/* Attaches to the bus; from now on its interrupt comes. */
void usb_attach(void);

/* Leaves the bus and forgets everything, as if the cable were pulled. */
void usb_detach(void);

/* What happened on the bus since this was last asked, as USB_NEWS_ bits. */
uint32_t usb_take_news(void);

/* After a reset of the bus: address 0, nothing on its way. */
void usb_begin_anew(void);

/* A request has come; whatever the last one had under way is off. */
void usb_take_setup(uint8_t *into);

/* The control pipe answers with a stall until the next request. */
void usb_refuse_control(void);

void usb_set_address(uint32_t address);

/* Opens the pipes for data and notices, or closes them. */
void usb_open_pipes(bool open);

/* A halted pipe stalls; released, it begins with its even packet, and what was on its way in it still is. */
void usb_halt(enum usb_pipe pipe, bool halts);
bool usb_is_halted(enum usb_pipe pipe);

/* Gives the laptop one packet of at most USB_PACKET_BYTES, when it asks. */
void usb_give(enum usb_pipe pipe, const uint8_t *bytes, uint32_t length);

/* Takes back a packet that the laptop does not ask for any more. */
void usb_take_back(enum usb_pipe pipe);

/* Lets one packet come. */
void usb_await(enum usb_pipe pipe);

/* Whether a packet has gone or come since this was last asked of the pipe. */
bool usb_take_done(enum usb_pipe pipe);

/* The packet that came, into room for USB_PACKET_BYTES; gives its length. */
uint32_t usb_received(enum usb_pipe pipe, uint8_t *into);

/* The number of the latest frame, which changes every millisecond while the bus is awake. */
uint32_t usb_frame(void);

/* Whether a laptop gives power at the socket: where it gives none, the device must leave the bus (USB 2.0, section 7.1.5). */
ALWAYS_INLINE bool usb_has_power(void);

/* Holds off its interrupt, and no other. */
ALWAYS_INLINE void usb_hold_off(void);
ALWAYS_INLINE void usb_let_in(void);

#include <port/usb.h>

#endif

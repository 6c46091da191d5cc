/*
 * What a laptop asks of the device before and beside the data: who it is, its address, its configuration, and the
 * requests of a serial port (USB 2.0, chapter 9; Communications Class, PSTN subclass 1.2). All of it happens in the
 * interrupt, and is in RAM.
 */
#ifndef TREADLE_USB_CONTROL_H
#define TREADLE_USB_CONTROL_H

#include <stdbool.h>
#include <stdint.h>

enum { USB_PIPES_BEGIN_ANEW = 1, USB_PORT_OPENED = 2, USB_PORT_CLOSED = 4 };

/* The device's name for itself is put together. */
void usb_control_start(void);

/* Back to before any laptop was there. */
void usb_control_forget(void);

/* Deals with everything but data, and tells which of the changes above came of it. */
uint32_t usb_control_interrupt(void);

bool usb_is_configured(void);
bool usb_is_suspended(void);

/* Whether a program had the port open and closed it; not every system tells. */
bool usb_port_is_closed(void);

#endif

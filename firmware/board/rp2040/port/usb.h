#ifndef TREADLE_PORT_USB_H
#define TREADLE_PORT_USB_H

#include "../registers.h"

ALWAYS_INLINE void usb_hold_off(void) { NVIC_ICER = 1u << IRQ_USBCTRL; }
ALWAYS_INLINE void usb_let_in(void) { NVIC_ISER = 1u << IRQ_USBCTRL; }

#endif

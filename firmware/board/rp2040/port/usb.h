#ifndef TREADLE_PORT_USB_H
#define TREADLE_PORT_USB_H

#include "../registers.h"
#include "pins.h"

/* Without a pin for it, nobody can tell. */
ALWAYS_INLINE bool usb_has_power(void) {
#ifdef PIN_VBUS
    return SIO_GPIO_IN & (1u << PIN_VBUS);
#else
    return true;
#endif
}

ALWAYS_INLINE void usb_hold_off(void) { NVIC_ICER = 1u << IRQ_USBCTRL; }
ALWAYS_INLINE void usb_let_in(void) { NVIC_ISER = 1u << IRQ_USBCTRL; }

#endif

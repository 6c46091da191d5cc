/* This chip has no USB: nobody ever gives power at a socket that is not there. */
#ifndef TREADLE_PORT_USB_H
#define TREADLE_PORT_USB_H

ALWAYS_INLINE bool usb_has_power(void) { return false; }

ALWAYS_INLINE void usb_hold_off(void) {}
ALWAYS_INLINE void usb_let_in(void) {}

#endif

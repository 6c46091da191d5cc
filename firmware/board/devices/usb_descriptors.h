/* What the device says of itself. */
#ifndef TREADLE_USB_DESCRIPTORS_H
#define TREADLE_USB_DESCRIPTORS_H

#include <stdbool.h>
#include <stdint.h>

enum { USB_ENDPOINT_NOTICE = 1, USB_ENDPOINT_DATA = 2, USB_INTERFACES = 2 };

struct usb_text {
    const uint8_t *bytes; /* nothing where there is no such text */
    uint32_t length;
};

/* The serial number is the board's id. */
void usb_descriptors_start(void);

/* The descriptor of a type (USB 2.0, table 9-5) and its index. */
struct usb_text usb_descriptor(uint32_t type, uint32_t index);

#endif

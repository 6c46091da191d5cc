#include "usb_descriptors.h"

#include "chip/flash.h"
#include "chip/memory.h"
#include "chip/usb.h"

/* USB 2.0, table 9-5; Communications Class 1.2, tables 12 and 13. */
enum {
    TYPE_DEVICE = 1,
    TYPE_CONFIGURATION = 2,
    TYPE_TEXT = 3,
    TYPE_INTERFACE = 4,
    TYPE_ENDPOINT = 5,
    TYPE_FUNCTION = 0x24,
    TYPES_OF_TRANSFER_BULK = 2,
    TYPES_OF_TRANSFER_INTERRUPT = 3,
    CLASS_COMMUNICATIONS = 2,
    CLASS_DATA = 10,
    SUBCLASS_ACM = 2,
    IN = 0x80,
};

/* The chip vendor's pair for a serial port of whoever uses the chip: a candidate, the serial number tells the board. */
enum { VENDOR = 0x2e8a, PRODUCT = 0x000a };

enum { TEXT_LANGUAGE, TEXT_MANUFACTURER, TEXT_PRODUCT, TEXT_SERIAL, TEXTS };

#define LOW_HIGH(word) (word) & 0xff, (word) >> 8

RAM_CONSTANT static const uint8_t device[] = {
    18, TYPE_DEVICE, LOW_HIGH(0x0200), CLASS_COMMUNICATIONS, SUBCLASS_ACM, 0, USB_PACKET_BYTES,
    LOW_HIGH(VENDOR), LOW_HIGH(PRODUCT), LOW_HIGH(0x0100), TEXT_MANUFACTURER, TEXT_PRODUCT, TEXT_SERIAL, 1,
};

enum { CONFIGURATION_BYTES = 67, SELF_POWERED = 0xc0, HALF_MILLIAMPS_100 = 50, NOTICE_EVERY_MS = 16, NOTICE_BYTES = 8 };

/* Protocol 0, so that no modem manager takes the port for a modem's. */
RAM_CONSTANT static const uint8_t configuration[CONFIGURATION_BYTES] = {
    9, TYPE_CONFIGURATION, LOW_HIGH(CONFIGURATION_BYTES), USB_INTERFACES, 1, 0, SELF_POWERED, HALF_MILLIAMPS_100,
    9, TYPE_INTERFACE, 0, 0, 1, CLASS_COMMUNICATIONS, SUBCLASS_ACM, 0, 0,
    5, TYPE_FUNCTION, 0, LOW_HIGH(0x0110), /* header: the class's release */
    5, TYPE_FUNCTION, 1, 0, 1,             /* calls are not managed here */
    4, TYPE_FUNCTION, 2, 2,                /* line coding and state are understood */
    5, TYPE_FUNCTION, 6, 0, 1,             /* interfaces 0 and 1 are one port */
    7, TYPE_ENDPOINT, USB_ENDPOINT_NOTICE | IN, TYPES_OF_TRANSFER_INTERRUPT, LOW_HIGH(NOTICE_BYTES), NOTICE_EVERY_MS,
    9, TYPE_INTERFACE, 1, 0, 2, CLASS_DATA, 0, 0, 0,
    7, TYPE_ENDPOINT, USB_ENDPOINT_DATA, TYPES_OF_TRANSFER_BULK, LOW_HIGH(USB_PACKET_BYTES), 0,
    7, TYPE_ENDPOINT, USB_ENDPOINT_DATA | IN, TYPES_OF_TRANSFER_BULK, LOW_HIGH(USB_PACKET_BYTES), 0,
};

enum { ID_DIGITS = 2 * FLASH_ID_BYTES, TEXT_HEAD = 2 };

RAM_CONSTANT static const uint8_t language[] = {4, TYPE_TEXT, LOW_HIGH(0x0409)}; /* English */
RAM_CONSTANT static const uint8_t manufacturer[] = {16, TYPE_TEXT, 'T', 0, 'r', 0, 'e', 0, 'a', 0, 'd', 0, 'l', 0, 'e', 0};
RAM_CONSTANT static const uint8_t product[] = {28, TYPE_TEXT, 'T', 0, 'r', 0, 'e', 0, 'a', 0, 'd', 0, 'l', 0, 'e', 0, ' ', 0, 'b', 0, 'o', 0, 'a', 0, 'r', 0, 'd', 0};
_Static_assert(sizeof device == 18 && sizeof manufacturer == 16 && sizeof product == 28, "lengths stand in the first byte");

static uint8_t serial[TEXT_HEAD + 2 * ID_DIGITS];

static uint8_t digit(uint32_t value) { return (uint8_t)(value < 10 ? '0' + value : 'a' + value - 10); }

void usb_descriptors_start(void) {
    uint8_t id[FLASH_ID_BYTES];
    flash_id(id);
    serial[0] = sizeof serial;
    serial[1] = TYPE_TEXT;
    for (uint32_t at = 0; at < ID_DIGITS; at++) {
        uint32_t shift = at % 2 == 0 ? 4 : 0;
        serial[TEXT_HEAD + 2 * at] = digit((id[at / 2] >> shift) & 15u);
    }
}

/* In RAM like the code: a structure written down in a function, the compiler would put into the flash. */
RAM_CONSTANT static const struct usb_text texts[TEXTS] = {
    [TEXT_LANGUAGE] = {language, sizeof language},
    [TEXT_MANUFACTURER] = {manufacturer, sizeof manufacturer},
    [TEXT_PRODUCT] = {product, sizeof product},
    [TEXT_SERIAL] = {serial, sizeof serial},
};
RAM_CONSTANT static const struct usb_text device_text = {device, sizeof device};
RAM_CONSTANT static const struct usb_text configuration_text = {configuration, sizeof configuration};

IN_RAM struct usb_text usb_descriptor(uint32_t type, uint32_t index) {
    if (type == TYPE_DEVICE && index == 0) return device_text;
    if (type == TYPE_CONFIGURATION && index == 0) return configuration_text;
    if (type == TYPE_TEXT && index < TEXTS) return texts[index];
    return (struct usb_text){0, 0};
}

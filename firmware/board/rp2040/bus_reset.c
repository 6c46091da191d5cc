/*
 * Erratum RP2040-E5, "USB device fails to exit RESET state on busy USB bus" (datasheet, appendix B; section 4.1.2.8.5 says
 * that chips B0 and B1 have it): "The USB device controller requires 800 us of idle (J-state) after a bus reset before
 * moving to the CONNECTED state." Behind a hub that repeats packets for its other devices it never sees as much.
 *
 * The vendor's way (pico-sdk, pico_fix/rp2040_usb_device_enumeration): when the reset has ended the controller listens for a
 * millisecond not to the bus but to GPIO 15, whose input is forced high; D- counts as low, since no pin has that function.
 * The pin is never driven, but floats by both its pulls, so nothing may hang on it. Hosts wait 10 ms after a reset before
 * they speak (USB 2.0, section 7.1.7.5).
 */
#include "bus_reset.h"

#include "chip/memory.h"
#include "registers.h"
#include "systick.h"

enum {
    REVISION_WITH_ERRATUM = 1,
    GPIO_FOR_J = 15,
    /* Bits as in the vendor's usb.h, io_bank0.h and pads_bank0.h. */
    STATUS_CONNECTED = 1 << 16,
    STATUS_LINE = 3 << 2, /* 0 while both lines are low */
    PHY_PULL_UP = 1 << 1,
    PHY_PULL_UP_BY_HAND = 1 << 2,
    MUXING_TO_PIN = (1 << 2) | (1 << 3),
    PIN_NEVER_DRIVEN = 2 << 12,
    PIN_READS_HIGH = 3 << 16,
    PAD_BOTH_PULLS = (1 << 6) | (1 << 4) | (1 << 3) | (1 << 2) | (1 << 1),
    PAD_AT_RESET = (1 << 6) | (1 << 4) | (1 << 2) | (1 << 1),
    LONGEST_MS = 5, /* one is enough; a controller that is not there by then will not be */
};

static enum { AT_REST, AWAITS_END, SEES_J } stage;
static uint32_t seen_ms;

ALWAYS_INLINE void listen_to_pin(void) {
    PADS_BANK0_GPIO(GPIO_FOR_J) = PAD_BOTH_PULLS;
    IO_BANK0_CTRL(GPIO_FOR_J) = PIN_FUNCTION_USB | PIN_NEVER_DRIVEN | PIN_READS_HIGH;
    USB_PHY_DIRECT = PHY_PULL_UP;
    USB_PHY_DIRECT_OVERRIDE = PHY_PULL_UP_BY_HAND;
    USB_MUXING = MUXING_TO_PIN;
    seen_ms = 0;
    stage = SEES_J;
}

ALWAYS_INLINE void listen_to_bus(void) {
    USB_MUXING = MUXING_TO_BUS;
    USB_PHY_DIRECT_OVERRIDE = 0;
    IO_BANK0_CTRL(GPIO_FOR_J) = PIN_FUNCTION_NONE;
    PADS_BANK0_GPIO(GPIO_FOR_J) = PAD_AT_RESET;
}

void bus_reset_start(void) { systick_handle(bus_reset_tick); }

IN_RAM void bus_reset_attend(void) {
    if (SYSINFO_CHIP_REVISION != REVISION_WITH_ERRATUM || stage == AWAITS_END) return;
    if (stage == SEES_J) listen_to_bus();
    stage = AWAITS_END;
    systick_begin();
}

void bus_reset_leave(void) {
    systick_end();
    if (stage == SEES_J) listen_to_bus();
    stage = AT_REST;
}

IN_RAM void bus_reset_tick(void) {
    if (stage == AWAITS_END) {
        if (USB_SIE_STATUS & STATUS_LINE) listen_to_pin();
        return;
    }
    if (!(USB_SIE_STATUS & STATUS_CONNECTED) && ++seen_ms < LONGEST_MS) return;
    systick_end();
    if (stage == SEES_J) listen_to_bus();
    stage = AT_REST;
}

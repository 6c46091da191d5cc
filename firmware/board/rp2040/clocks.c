#include "clocks.h"

#include "registers.h"

/*
 * Bits as in the vendor's xosc.h, pll.h, clocks.h and watchdog.h (see registers.h); start-up delay and the PLL's three
 * figures are those of its SDK for 12 MHz and 125 MHz (hardware_xosc, hardware_clocks).
 */
enum {
    XOSC_ENABLE_1_15_MHZ = 0xfabaa0, /* ENABLE and FREQ_RANGE, section 2.16.7 */
    XOSC_STARTUP_DELAY = 47,         /* about 1 ms in units of 256 crystal periods, section 2.16.3 */
    CRYSTAL_MHZ = 12,
    PLL_FEEDBACK = 125, /* 12 MHz x 125 = 1500 MHz; / 6 / 2 = 125 MHz, section 2.18.2 */
    PLL_POST_DIVIDERS = (6 << 16) | (2 << 12),
    PLL_USB_FEEDBACK = 100, /* 12 MHz x 100 = 1200 MHz; / 5 / 5 = 48 MHz */
    PLL_USB_POST_DIVIDERS = (5 << 16) | (5 << 12),
    CLK_USB_ENABLE = 1 << 11, /* its source is the USB PLL unless told otherwise */
    PLL_POWER_VCO = (1 << 5) | (1 << 0),
    PLL_POWER_POST_DIVIDERS = 1 << 3,
    CLK_REF_FROM_CRYSTAL = 2,
    CLK_SYS_FROM_PLL = 1, /* its auxiliary source, which is the PLL unless told otherwise */
    CLK_PERI_ENABLE = 1 << 11,
    WATCHDOG_TICK_ENABLE = 1 << 9,
};

#define PLL_LOCKED (1u << 31)
#define CRYSTAL_STABLE (1u << 31)

static void release_from_reset(uint32_t peripherals) {
    CLEAR_ALIAS(RESETS_RESET) = peripherals;
    while ((RESETS_RESET_DONE & peripherals) != peripherals) {
    }
}

static void start_crystal(void) {
    XOSC_STARTUP = XOSC_STARTUP_DELAY;
    XOSC_CTRL = XOSC_ENABLE_1_15_MHZ;
    while (!(XOSC_STATUS & CRYSTAL_STABLE)) {
    }
}

static void start_pll(void) {
    release_from_reset(RESETS_PLL_SYS);
    PLL_SYS_CS = 1; /* reference divider */
    PLL_SYS_FBDIV_INT = PLL_FEEDBACK;
    CLEAR_ALIAS(PLL_SYS_PWR) = PLL_POWER_VCO;
    while (!(PLL_SYS_CS & PLL_LOCKED)) {
    }
    PLL_SYS_PRIM = PLL_POST_DIVIDERS;
    CLEAR_ALIAS(PLL_SYS_PWR) = PLL_POWER_POST_DIVIDERS;
}

static void start_usb_pll(void) {
    release_from_reset(RESETS_PLL_USB);
    PLL_USB_CS = 1;
    PLL_USB_FBDIV_INT = PLL_USB_FEEDBACK;
    CLEAR_ALIAS(PLL_USB_PWR) = PLL_POWER_VCO;
    while (!(PLL_USB_CS & PLL_LOCKED)) {
    }
    PLL_USB_PRIM = PLL_USB_POST_DIVIDERS;
    CLEAR_ALIAS(PLL_USB_PWR) = PLL_POWER_POST_DIVIDERS;
    CLOCKS_CLK_USB_CTRL = CLK_USB_ENABLE;
}

void clocks_start(void) {
    start_crystal();
    CLOCKS_CLK_REF_CTRL = CLK_REF_FROM_CRYSTAL;
    while (!(CLOCKS_CLK_REF_SELECTED & (1u << CLK_REF_FROM_CRYSTAL))) {
    }
    start_pll();
    CLOCKS_CLK_SYS_CTRL = CLK_SYS_FROM_PLL;
    while (!(CLOCKS_CLK_SYS_SELECTED & (1u << CLK_SYS_FROM_PLL))) {
    }
    CLOCKS_CLK_PERI_CTRL = CLK_PERI_ENABLE;
    start_usb_pll();
    WATCHDOG_TICK = WATCHDOG_TICK_ENABLE | CRYSTAL_MHZ; /* feeds the timer too, section 4.7.2 */
    release_from_reset(RESETS_TIMER | RESETS_UART0 | RESETS_I2C0 | RESETS_PWM);
}

#include "chip/pin.h"
#include "display_bus.h"
#include "registers.h"

/* Pad bits, section 2.19.6.3 (pads_bank0.h): input enabled, Schmitt trigger, 4 mA, one pull. */
enum {
    PAD_PULL_UP = 1 << 3,
    PAD_PULL_DOWN = 1 << 2,
    PAD_PLAIN = (1 << 6) | (1 << 4) | (1 << 1),
};

static void use_pin(uint32_t gpio, uint32_t function, uint32_t pull) {
    PADS_BANK0_GPIO(gpio) = PAD_PLAIN | pull;
    IO_BANK0_CTRL(gpio) = function;
}

/* A relay's pin is driven low before it is an output, so that it never glitches high. */
static void use_relay(uint32_t gpio) {
    SIO_GPIO_OUT_CLR = 1u << gpio;
    SIO_GPIO_OE_SET = 1u << gpio;
    use_pin(gpio, PIN_FUNCTION_SIO, PAD_PULL_DOWN);
}

void pins_start(void) {
    CLEAR_ALIAS(RESETS_RESET) = RESETS_IO_BANK0 | RESETS_PADS_BANK0;
    while ((RESETS_RESET_DONE & (RESETS_IO_BANK0 | RESETS_PADS_BANK0)) != (RESETS_IO_BANK0 | RESETS_PADS_BANK0)) {
    }
    use_relay(PIN_LAMP_RELAY);
    use_relay(PIN_SAFELIGHT_RELAY);
    use_pin(PIN_PEDAL, PIN_FUNCTION_SIO, PAD_PULL_UP);
    use_pin(PIN_KNOB_A, PIN_FUNCTION_SIO, PAD_PULL_UP);
    use_pin(PIN_KNOB_B, PIN_FUNCTION_SIO, PAD_PULL_UP);
    use_pin(PIN_KNOB_PUSH, PIN_FUNCTION_SIO, PAD_PULL_UP);
    use_pin(PIN_UART0_TX, PIN_FUNCTION_UART, 0);
    use_pin(PIN_UART0_RX, PIN_FUNCTION_UART, PAD_PULL_UP);
    pins_display_bus(PIN_FUNCTION_I2C);
    use_pin(PIN_TONE, PIN_FUNCTION_PWM, PAD_PULL_DOWN);
    use_pin(PIN_DISPLAY_LIGHT, PIN_FUNCTION_PWM, PAD_PULL_DOWN);
#ifdef PIN_VBUS
    use_pin(PIN_VBUS, PIN_FUNCTION_SIO, PAD_PULL_DOWN);
#endif
}

void pins_display_bus(uint32_t function) {
    use_pin(PIN_DISPLAY_SDA, function, PAD_PULL_UP);
    use_pin(PIN_DISPLAY_SCL, function, PAD_PULL_UP);
}

/* EDGE_HIGH and EDGE_LOW of a pin's four bits, section 2.19.6.1 (io_bank0.h). */
enum { EDGE_EITHER = (1 << 3) | (1 << 2), PINS_A_WORD = 8 };

void pin_interrupt_on_edges(uint32_t pin) {
    uint32_t bits = (uint32_t)EDGE_EITHER << (4 * (pin % PINS_A_WORD));
    SET_ALIAS(IO_BANK0_PROC0_INTE(pin / PINS_A_WORD)) = bits;
}

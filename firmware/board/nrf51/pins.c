#include "chip/pin.h"

/* PIN_CNF: direction, input buffer, pull, drive. */
enum {
    CNF_OUTPUT = (1 << 0) | (1 << 1),
    CNF_INPUT = 0,
    CNF_PULL_UP = 3 << 2,
    CNF_OPEN_DRAIN = 6 << 8, /* standard 0, disconnected 1, as the reference manual asks of the TWI's pins */
};

/* Low before it is an output, so that a relay never glitches. */
static void use_output(uint32_t pin) {
    GPIO_OUTCLR = 1u << pin;
    GPIO_PIN_CNF(pin) = CNF_OUTPUT;
}

static void use_contact(uint32_t pin) { GPIO_PIN_CNF(pin) = CNF_INPUT | CNF_PULL_UP; }

void pins_start(void) {
    use_output(PIN_LAMP_RELAY);
    use_output(PIN_SAFELIGHT_RELAY);
    use_output(PIN_TONE);
    use_output(PIN_DISPLAY_LIGHT);
    use_contact(PIN_PEDAL);
    use_contact(PIN_KNOB_A);
    use_contact(PIN_KNOB_B);
    use_contact(PIN_KNOB_PUSH);
    use_contact(PIN_UART_RX);
    GPIO_OUTSET = 1u << PIN_UART_TX; /* a line at rest is high */
    GPIO_PIN_CNF(PIN_UART_TX) = CNF_OUTPUT;
    GPIO_PIN_CNF(PIN_DISPLAY_SDA) = CNF_OPEN_DRAIN | CNF_PULL_UP;
    GPIO_PIN_CNF(PIN_DISPLAY_SCL) = CNF_OPEN_DRAIN | CNF_PULL_UP;
}

/* The tick looks at all of them. */
void pin_interrupt_on_edges(uint32_t pin) { (void)pin; }

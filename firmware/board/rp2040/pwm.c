#include "chip/pwm.h"

#include "registers.h"

enum { CSR_ENABLE = 1, SLICES = 8 };

/* Section 4.5.2 (io_bank0.h: GPIO 10 is PWM_A_5): two pins of a slice, the even one is channel A, the odd one B. */
static uint32_t slice_of(uint32_t pin) { return pin / 2 % SLICES; }

static uint32_t channel_shift(uint32_t pin) { return pin % 2 * 16; }

void pwm_start(uint32_t pin, uint32_t period) {
    PWM_DIV(slice_of(pin)) = PWM_DIVIDER << 4;
    pwm_set_high_counts(pin, 0);
    pwm_set_period(pin, period);
    PWM_CSR(slice_of(pin)) = CSR_ENABLE;
}

void pwm_set_high_counts(uint32_t pin, uint32_t high) {
    uint32_t others = PWM_CC(slice_of(pin)) & ~(0xffffu << channel_shift(pin));
    PWM_CC(slice_of(pin)) = others | high << channel_shift(pin);
}

void pwm_set_period(uint32_t pin, uint32_t period) { PWM_TOP(slice_of(pin)) = period - 1; }

/*
 * This chip counts no pulses by itself; a wave needs a timer, GPIOTE and PPI together, of which the emulation has the first
 * only. Until somebody has a real one to try it on, an output that is high for at least half of its period is high, and the
 * sounder, which never is, is silent. What was asked for is kept.
 */
#include "chip/pwm.h"

#include "chip/pin.h"

struct wave {
    uint32_t period, high;
};
static volatile struct wave pwm_waves[32];

static void drive(uint32_t pin) {
    const volatile struct wave *wave = &pwm_waves[pin];
    if (wave->high > 0 && wave->high * 2 > wave->period) pin_set_high(pin);
    else pin_set_low(pin);
}

void pwm_start(uint32_t pin, uint32_t period) {
    pwm_waves[pin].period = period;
    pwm_set_high_counts(pin, 0);
}

void pwm_set_high_counts(uint32_t pin, uint32_t high) {
    pwm_waves[pin].high = high;
    drive(pin);
}

void pwm_set_period(uint32_t pin, uint32_t period) { pwm_waves[pin].period = period; }

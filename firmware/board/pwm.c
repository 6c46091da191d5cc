#include "pwm.h"

#include "clock.h"

/* Slices and channels of PIN_TONE and PIN_DISPLAY_LIGHT, section 4.5.2: GPIO 10 is 5A, GPIO 12 is 6A. */
enum { SLICE_TONE = 5, SLICE_LIGHT = 6 };

enum {
    CSR_ENABLE = 1,
    DIVIDER = 64,
    LOWEST_HZ = 30,           /* the longest period that 16 bits hold at COUNT_HZ */
    HIGHEST_HZ = 20000,
    LIGHT_PERIOD = 1953,      /* 1 kHz: far above what an eye in the dark sees flicker */
    FULL_PERCENT = 100,
    LOUDEST_DIVISOR = 2 * FULL_PERCENT /* a square wave is loudest at half on, half off */
};
#define COUNT_HZ (SYSTEM_HZ / DIVIDER)

static int32_t clamp(int32_t value, int32_t low, int32_t high) {
    if (value < low) return low;
    return value > high ? high : value;
}

static void slice_start(uint32_t slice) {
    PWM_DIV(slice) = DIVIDER << 4;
    PWM_CC(slice) = 0;
    PWM_TOP(slice) = LIGHT_PERIOD - 1;
    PWM_CSR(slice) = CSR_ENABLE;
}

void pwm_start(void) {
    slice_start(SLICE_TONE);
    slice_start(SLICE_LIGHT);
}

/* A silent slice goes on counting with its output low: a stopped one would keep the level it had. */
void tone_sound(int32_t hz, int32_t volume_percent) {
    if (hz < LOWEST_HZ) {
        PWM_CC(SLICE_TONE) = 0;
        return;
    }
    uint32_t period = COUNT_HZ / (uint32_t)clamp(hz, LOWEST_HZ, HIGHEST_HZ);
    PWM_TOP(SLICE_TONE) = period - 1;
    PWM_CC(SLICE_TONE) = period * (uint32_t)clamp(volume_percent, 0, FULL_PERCENT) / LOUDEST_DIVISOR;
}

void light_set(int32_t percent) {
    PWM_CC(SLICE_LIGHT) = LIGHT_PERIOD * (uint32_t)clamp(percent, 0, FULL_PERCENT) / FULL_PERCENT;
}

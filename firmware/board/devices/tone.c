#include "tone.h"

#include "chip/pin.h"
#include "chip/pwm.h"
#include "percent.h"

enum {
    LOWEST_HZ = 30, /* the longest period that 16 bits hold */
    HIGHEST_HZ = 20000,
    LOUDEST_DIVISOR = 2 * FULL_PERCENT, /* a square wave is loudest at half on, half off */
};
_Static_assert(PWM_HZ / LOWEST_HZ < 1 << 16, "the lowest tone's period must fit the counter");

void tone_start(void) { pwm_start(PIN_TONE, PWM_HZ / LOWEST_HZ); }

void tone_sound(int32_t hz, int32_t volume_percent) {
    if (hz < LOWEST_HZ) {
        pwm_set_high_counts(PIN_TONE, 0);
        return;
    }
    uint32_t period = PWM_HZ / (uint32_t)(hz < HIGHEST_HZ ? hz : HIGHEST_HZ);
    pwm_set_period(PIN_TONE, period);
    pwm_set_high_counts(PIN_TONE, period * percent(volume_percent) / LOUDEST_DIVISOR);
}

#include "display_light.h"

#include "chip/pin.h"
#include "chip/pwm.h"
#include "percent.h"

/* Far above what an eye in the dark sees flicker. */
enum { FLICKER_HZ = 1000, PERIOD = PWM_HZ / FLICKER_HZ };

void display_light_start(void) { pwm_start(PIN_DISPLAY_LIGHT, PERIOD); }

void display_light_set(int32_t light_percent) {
    pwm_set_high_counts(PIN_DISPLAY_LIGHT, PERIOD * percent(light_percent) / FULL_PERCENT);
}

/* The two outputs made by PWM (RP2040 datasheet section 4.5): the tone and the display's light. */
#ifndef TREADLE_PWM_H
#define TREADLE_PWM_H

#include <stdint.h>

void pwm_start(void);

/* Sounds `hz` at 0 to 100 per cent until told otherwise; below 30 Hz or at 0 per cent: silence. */
void tone_sound(int32_t hz, int32_t volume_percent);

/* The display's light, 0 (dark) to 100 per cent. */
void light_set(int32_t percent);

#endif

/* Outputs made by counting: a pin is high for so many counts of each period. */
#ifndef TREADLE_CHIP_PWM_H
#define TREADLE_CHIP_PWM_H

#include <stdint.h>

#include <port/pwm.h> /* PWM_HZ: how often a counter counts; a period has at most 16 bits of them */

/* Starts the counter of `pin`, with the pin low. */
void pwm_start(uint32_t pin, uint32_t period);

/* A silent output goes on counting with its pin low: a stopped counter would keep the level it had. */
void pwm_set_high_counts(uint32_t pin, uint32_t high);

void pwm_set_period(uint32_t pin, uint32_t period);

#endif

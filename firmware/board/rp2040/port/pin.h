/* Levels in the SIO, section 2.3.1.7; edges of GPIO 0 to 15, which are two words of section 2.19.6.1. */
#ifndef TREADLE_PORT_PIN_H
#define TREADLE_PORT_PIN_H

#include "../registers.h"

ALWAYS_INLINE void pin_set_high(uint32_t pin) { SIO_GPIO_OUT_SET = 1u << pin; }

ALWAYS_INLINE void pin_set_low(uint32_t pin) { SIO_GPIO_OUT_CLR = 1u << pin; }

ALWAYS_INLINE uint32_t pin_levels(void) { return SIO_GPIO_IN; }

ALWAYS_INLINE void pin_acknowledge_edges(void) {
    IO_BANK0_INTR(0) = 0xffffffffu;
    IO_BANK0_INTR(1) = 0xffffffffu;
}

#endif

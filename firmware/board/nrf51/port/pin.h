#ifndef TREADLE_PORT_PIN_H
#define TREADLE_PORT_PIN_H

#include "../registers.h"

ALWAYS_INLINE void pin_set_high(uint32_t pin) { GPIO_OUTSET = 1u << pin; }

ALWAYS_INLINE void pin_set_low(uint32_t pin) { GPIO_OUTCLR = 1u << pin; }

ALWAYS_INLINE uint32_t pin_levels(void) { return GPIO_IN; }

/* Contacts are looked at by the tick, whether there was an edge or not. */
ALWAYS_INLINE void pin_acknowledge_edges(void) {}

#endif

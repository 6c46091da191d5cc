/*
 * Levels and edges of the pins that the chip's port names in pins.h: one PIN_ for each thing that hangs on the
 * board. What each pin is for is settled by pins_start, relays first and released.
 */
#ifndef TREADLE_CHIP_PIN_H
#define TREADLE_CHIP_PIN_H

#include <stdint.h>

#include "memory.h"

/* Gives every pin its function and its pull; relays are off before anything else runs. */
void pins_start(void);

/* Interrupts on either edge of an input. */
void pin_interrupt_on_edges(uint32_t pin);

ALWAYS_INLINE void pin_set_high(uint32_t pin);
ALWAYS_INLINE void pin_set_low(uint32_t pin);

/* All levels at one moment; pin `n` is bit `n`. */
ALWAYS_INLINE uint32_t pin_levels(void);

/* In the pins' interrupt, before looking, so that an edge after the look interrupts again. */
ALWAYS_INLINE void pin_acknowledge_edges(void);

#include <port/pin.h>
#include <port/pins.h>

#endif

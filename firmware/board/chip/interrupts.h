/* Who is called when, and holding off all of them. */
#ifndef TREADLE_CHIP_INTERRUPTS_H
#define TREADLE_CHIP_INTERRUPTS_H

#include <stdint.h>

#include "memory.h"

enum interrupt {
    INTERRUPT_LAMP_OFF, /* the alarms, in the order of alarm.h */
    INTERRUPT_LAMP_LIMIT,
    INTERRUPT_DEADLINE,
    INTERRUPT_TICK,
    INTERRUPT_CONTACTS,
    INTERRUPT_UART,
    INTERRUPT_USB,
    INTERRUPT_DISPLAY,
    INTERRUPT_COUNT
};

typedef void (*interrupt_handler)(void);

/* From now on a fault of the processor, or an interrupt that nobody handles, stops the board with its reason. */
void interrupts_start(void);

/* Calls `handler`, which is IN_RAM. A lower number outranks a higher one: 0 to 3. */
void interrupts_handle(enum interrupt interrupt, interrupt_handler handler, uint32_t priority);

/* Holds off every interrupt; only for a handful of instructions that are themselves in RAM. */
ALWAYS_INLINE void interrupts_off(void);
ALWAYS_INLINE void interrupts_on(void);

#include <port/interrupts.h>

#endif

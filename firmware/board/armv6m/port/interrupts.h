#ifndef TREADLE_PORT_INTERRUPTS_H
#define TREADLE_PORT_INTERRUPTS_H

ALWAYS_INLINE void interrupts_off(void) { __asm__ volatile("cpsid i" ::: "memory"); }
ALWAYS_INLINE void interrupts_on(void) { __asm__ volatile("cpsie i" ::: "memory"); }

#endif

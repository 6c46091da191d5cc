/* The processor's own timer, once a millisecond while it is wanted; it interrupts at the lowest priority. */
#ifndef TREADLE_RP2040_SYSTICK_H
#define TREADLE_RP2040_SYSTICK_H

#include "chip/interrupts.h"
#include "clocks.h"
#include "registers.h"

/* Calls `handler`, which is IN_RAM. */
void systick_handle(interrupt_handler handler);

enum {
    SYSTICK_COUNTS_AND_INTERRUPTS = (1 << 2) | (1 << 1) | (1 << 0), /* at the system clock; ARMv6-M manual, B3.3.3 */
    SYSTICK_FORGET_PENDING = 1 << 25,                               /* PENDSTCLR; ARMv6-M manual, B3.2.4 */
};

ALWAYS_INLINE void systick_begin(void) {
    M0PLUS_SYST_RVR = SYSTEM_HZ / 1000 - 1;
    M0PLUS_SYST_CVR = 0;
    M0PLUS_SYST_CSR = SYSTICK_COUNTS_AND_INTERRUPTS;
}

ALWAYS_INLINE void systick_end(void) {
    M0PLUS_SYST_CSR = 0;
    M0PLUS_ICSR = SYSTICK_FORGET_PENDING;
}

#endif

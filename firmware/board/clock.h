/*
 * The board's one clock: microseconds since the start, from the crystal through the watchdog's tick
 * (RP2040 datasheet section 4.6). Everything is inline, so that it is in RAM wherever its caller is.
 */
#ifndef TREADLE_CLOCK_H
#define TREADLE_CLOCK_H

#include <stdint.h>

#include "registers.h"

/* The system clock after clocks_start(); UART, I2C and PWM are derived from it. */
#define SYSTEM_HZ 125000000u

/* Who uses which of the timer's four alarms. */
enum { ALARM_LAMP_OFF = 0, ALARM_LAMP_LIMIT = 1, ALARM_DEADLINE = 2, ALARM_TICK = 3 };

/* Starts crystal, PLL and the microsecond tick; the peripherals that the board uses leave their resets. */
void clocks_start(void);

/* The low half of the time, enough for differences under 71 minutes. */
ALWAYS_INLINE uint32_t clock_low_us(void) { return TIMER_TIMERAWL; }

/* The time; reads again if the low half overflowed in between. */
ALWAYS_INLINE uint64_t clock_now_us(void) {
    for (;;) {
        uint32_t high = TIMER_TIMERAWH;
        uint32_t low = TIMER_TIMERAWL;
        if (high == TIMER_TIMERAWH) return ((uint64_t)high << 32) | low;
    }
}

/* Holds off every interrupt; only for a handful of instructions that are themselves in RAM. */
ALWAYS_INLINE void interrupts_off(void) { __asm__ volatile("cpsid i" ::: "memory"); }
ALWAYS_INLINE void interrupts_on(void) { __asm__ volatile("cpsie i" ::: "memory"); }

#endif

#include "tick.h"

#include "chip/clock.h"
#include "chip/memory.h"
#include "registers.h"

enum { TICK_US = 1000, BITS_16 = 0, SHORT_CLEAR_AT_0 = 1 << 0 };

volatile uint32_t tick_alarm_us;
volatile bool tick_alarm_is_set;

void tick_start(void) {
    TIMER_BITMODE(1) = BITS_16;
    TIMER_PRESCALER(1) = CLOCK_PRESCALER;
    TIMER_CC(1, 0) = TICK_US;
    TIMER_SHORTS(1) = SHORT_CLEAR_AT_0;
    TIMER_INTENSET(1) = TIMER_INT_COMPARE(0);
    TIMER_TASKS_START(1) = 1;
}

IN_RAM bool tick_ends_sleep(void) {
    return tick_alarm_is_set && (int32_t)(clock_low_us() - tick_alarm_us) >= 0;
}

IN_RAM void tick_acknowledge(void) { TIMER_EVENTS_COMPARE(1, 0) = 0; }

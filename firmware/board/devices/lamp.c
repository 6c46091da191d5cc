#include "lamp.h"

#include "chip/alarm.h"
#include "chip/clock.h"
#include "chip/fault.h"
#include "chip/interrupts.h"
#include "chip/pin.h"
#include "chip/sleep.h"

static volatile bool is_on;
static volatile bool has_ended;
static uint32_t on_at_us;
static uint32_t measured_on_us;
static uint64_t ended_at_us;

ALWAYS_INLINE void report_end(uint32_t on_us) {
    measured_on_us = on_us;
    ended_at_us = clock_now_us();
    has_ended = true;
    wake_urgently();
}

/* Ends an exposure: the edge first, then what it measured. Called with this module's interrupts held off. */
ALWAYS_INLINE void end_exposure(void) {
    pin_set_low(PIN_LAMP_RELAY);
    uint32_t off_at_us = clock_low_us();
    alarm_cancel_lamp();
    if (!is_on) return;
    is_on = false;
    report_end(off_at_us - on_at_us);
}

/* An alarm matches its one microsecond only, so one that is set too late ends at once. */
ALWAYS_INLINE bool passed(uint32_t on_us) { return clock_low_us() - on_at_us >= on_us; }

IN_RAM void lamp_on_for(uint32_t on_us) {
    if (is_on) return;
    if (on_us == 0) {
        report_end(0);
        return;
    }
    interrupts_off();
    is_on = true;
    on_at_us = clock_low_us();
    pin_set_high(PIN_LAMP_RELAY);
    alarm_set(ALARM_LAMP_OFF, on_at_us + on_us);
    alarm_set(ALARM_LAMP_LIMIT, on_at_us + on_us + LAMP_GRACE_US);
    if (passed(on_us)) end_exposure();
    interrupts_on();
}

IN_RAM void lamp_off(void) {
    interrupts_off();
    end_exposure();
    interrupts_on();
}

IN_RAM bool lamp_is_on(void) { return is_on; }

IN_RAM bool lamp_has_ended(uint64_t *at_us) {
    if (!has_ended) return false;
    *at_us = ended_at_us;
    return true;
}

IN_RAM uint32_t lamp_take_ended(void) {
    has_ended = false;
    return measured_on_us;
}

IN_RAM void lamp_off_interrupt(void) {
    end_exposure();
    alarm_acknowledge(ALARM_LAMP_OFF);
}

/* Reached only if the first alarm did not do its work. */
IN_RAM void lamp_limit_interrupt(void) {
    alarm_acknowledge(ALARM_LAMP_LIMIT);
    if (is_on) fault_stop(START_CAUSE_TRAP, FAULT_LAMP_LIMIT);
}

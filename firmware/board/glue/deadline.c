#include "deadline.h"

#include "chip/alarm.h"
#include "chip/clock.h"
#include "chip/sleep.h"

static uint64_t deadline_us = NO_DEADLINE;

void deadline_arm(void) {
    if (deadline_us - clock_now_us() < ALARM_REACH_US) alarm_set(ALARM_DEADLINE, (uint32_t)deadline_us);
}

void deadline_set(int64_t at_us) {
    deadline_us = at_us < 0 ? 0 : (uint64_t)at_us;
    deadline_arm();
}

uint64_t deadline_due_us(void) { return clock_now_us() >= deadline_us ? deadline_us : NO_DEADLINE; }

void deadline_forget(void) { deadline_us = NO_DEADLINE; }

/*
 * Only has to wake: the main loop looks at the clock. An alarm of a deadline that has been moved since is urgent to
 * nobody, but costs no more than a flash operation that waits a moment.
 */
IN_RAM void deadline_interrupt(void) {
    alarm_acknowledge(ALARM_DEADLINE);
    wake_urgently();
}

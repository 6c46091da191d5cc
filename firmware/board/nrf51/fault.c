/* What a reset keeps here is RAM that nobody clears (image.ld); without power it is anything, so two words must agree. */
#include "chip/fault.h"

#include <stdbool.h>

#include "chip/interrupts.h"
#include "chip/pin.h"
#include "registers.h"

enum { REASON_PIN = 1 << 0, REASON_WATCHDOG = 1 << 1, REASON_ALL = 0xf };
#define STOPPED 0x54524541u
#define RUNNING 0x52554e53u

static struct {
    uint32_t mark, inverse;
    struct start_reason reason;
} kept __attribute__((section(".kept")));

IN_RAM static void keep(uint32_t mark) {
    kept.mark = mark;
    kept.inverse = ~mark;
}

IN_RAM void fault_stop(uint32_t cause, uint32_t detail) {
    interrupts_off();
    pin_set_low(PIN_LAMP_RELAY);
    kept.reason.cause = cause;
    kept.reason.detail = detail;
    keep(STOPPED);
    SCB_AIRCR = SCB_AIRCR_RESET;
    for (;;) {
    }
}

/* RESETREAS keeps what it has until ones are written to it; after a loss of power it is 0. */
struct start_reason fault_take_reason(void) {
    struct start_reason reason = {START_CAUSE_POWER, 0};
    bool was_kept = kept.inverse == ~kept.mark;
    if (was_kept && kept.mark == STOPPED) reason = kept.reason;
    else if (was_kept && kept.mark == RUNNING && (POWER_RESETREAS & REASON_WATCHDOG)) reason.cause = START_CAUSE_WATCHDOG;
    else if (was_kept && kept.mark == RUNNING && (POWER_RESETREAS & REASON_PIN)) reason.cause = START_CAUSE_RESET_PIN;
    POWER_RESETREAS = REASON_ALL;
    keep(RUNNING);
    return reason;
}

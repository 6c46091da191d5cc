#include "chip/fault.h"

#include "chip/interrupts.h"
#include "chip/pin.h"
#include "registers.h"
#include "run_mark.h"

/*
 * Scratch 4 to 7 belong to the boot ROM (section 2.8.1.1; the SDK's hardware_watchdog); "TREA" in scratch 0 says that
 * 1 and 2 are ours.
 */
enum { SCRATCH_MARK = 0, SCRATCH_CAUSE = 1, SCRATCH_DETAIL = 2 };
#define MARK 0x54524541u

enum { REASON_TIMER = 1 << 0 }; /* watchdog.h */

/* A reset keeps the watchdog's scratch registers, section 4.7.1. */
IN_RAM void fault_stop(uint32_t cause, uint32_t detail) {
    interrupts_off();
    pin_set_low(PIN_LAMP_RELAY);
    WATCHDOG_SCRATCH(SCRATCH_CAUSE) = cause;
    WATCHDOG_SCRATCH(SCRATCH_DETAIL) = detail;
    WATCHDOG_SCRATCH(SCRATCH_MARK) = MARK;
    WATCHDOG_CTRL = WATCHDOG_CTRL_TRIGGER;
    for (;;) {
    }
}

struct start_reason fault_take_reason(void) {
    struct start_reason reason = {START_CAUSE_POWER, 0};
    if (WATCHDOG_SCRATCH(SCRATCH_MARK) == MARK) {
        reason.cause = WATCHDOG_SCRATCH(SCRATCH_CAUSE);
        reason.detail = WATCHDOG_SCRATCH(SCRATCH_DETAIL);
    } else if (WATCHDOG_REASON & REASON_TIMER) {
        reason.cause = run_mark_is_set() ? START_CAUSE_WATCHDOG : START_CAUSE_NEW_FIRMWARE;
    } else if (VREG_CHIP_RESET & CHIP_RESET_HAD_RUN) {
        reason.cause = START_CAUSE_RESET_PIN;
    }
    WATCHDOG_SCRATCH(SCRATCH_MARK) = 0;
    run_mark_set();
    return reason;
}

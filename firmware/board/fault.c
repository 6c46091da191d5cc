#include "fault.h"

#include "clock.h"
#include "generated/limits.h"
#include "lamp.h"
#include "registers.h"
#include "runtime/wasm-rt.h"

/* Scratch 4 to 7 belong to the boot ROM (section 2.8.1.1); "TREA" in scratch 0 says that 1 and 2 are ours. */
enum { SCRATCH_MARK = 0, SCRATCH_CAUSE = 1, SCRATCH_DETAIL = 2 };
#define MARK 0x54524541u

enum { REASON_TIMER = 1 << 0 };

IN_RAM static void reset_because(uint32_t cause, uint32_t detail) {
    interrupts_off();
    lamp_force_off();
    WATCHDOG_SCRATCH(SCRATCH_CAUSE) = cause;
    WATCHDOG_SCRATCH(SCRATCH_DETAIL) = detail;
    WATCHDOG_SCRATCH(SCRATCH_MARK) = MARK;
    WATCHDOG_CTRL = WATCHDOG_CTRL_TRIGGER;
    for (;;) {
    }
}

IN_RAM void fault_reset(uint32_t reason) {
    reset_because(START_CAUSE_TRAP, reason);
    __builtin_unreachable();
}

IN_RAM void fault_flash(void) {
    reset_because(START_CAUSE_FLASH_FAULT, 0);
    __builtin_unreachable();
}

IN_RAM void fault_trap(uint32_t trap) {
    reset_because(trap == WASM_RT_TRAP_EXHAUSTION ? START_CAUSE_STACK_OVERFLOW : START_CAUSE_TRAP, trap);
    __builtin_unreachable();
}

struct start_reason fault_take_reason(void) {
    struct start_reason reason = {START_CAUSE_POWER, 0};
    if (WATCHDOG_SCRATCH(SCRATCH_MARK) == MARK) {
        reason.cause = WATCHDOG_SCRATCH(SCRATCH_CAUSE);
        reason.detail = WATCHDOG_SCRATCH(SCRATCH_DETAIL);
    } else if (WATCHDOG_REASON & REASON_TIMER) {
        reason.cause = START_CAUSE_WATCHDOG;
    } else if (VREG_CHIP_RESET & CHIP_RESET_HAD_RUN) {
        reason.cause = START_CAUSE_RESET_PIN;
    }
    WATCHDOG_SCRATCH(SCRATCH_MARK) = 0;
    return reason;
}

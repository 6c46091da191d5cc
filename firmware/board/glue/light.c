#include "light.h"

#include "chip/fault.h"
#include "devices/lamp.h"

static bool is_forbidden;

void light_forbid(bool line_is_speaking) { is_forbidden = line_is_speaking; }

bool light_is_forbidden(void) { return is_forbidden; }

void light_for(uint32_t on_us) {
    if (is_forbidden) fault_stop(START_CAUSE_TRAP, FAULT_LAMP_BY_LINE);
    lamp_on_for(on_us);
}

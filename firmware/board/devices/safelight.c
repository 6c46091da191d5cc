#include "safelight.h"

#include "chip/pin.h"

void safelight_set(bool is_lit) {
    if (is_lit) pin_set_low(PIN_SAFELIGHT_RELAY);
    else pin_set_high(PIN_SAFELIGHT_RELAY);
}

#ifndef TREADLE_PORT_PWM_H
#define TREADLE_PORT_PWM_H

#include "../clocks.h"

enum { PWM_DIVIDER = 64 };
#define PWM_HZ (SYSTEM_HZ / PWM_DIVIDER)

#endif

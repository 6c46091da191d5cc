#ifndef TREADLE_PORT_PWM_H
#define TREADLE_PORT_PWM_H

#define PWM_HZ 1000000u

#endif

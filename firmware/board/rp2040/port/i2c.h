#ifndef TREADLE_PORT_I2C_H
#define TREADLE_PORT_I2C_H

#include "../registers.h"

/* What happened stays readable in the raw status, section 4.3.17. */
ALWAYS_INLINE void i2c_acknowledge(void) { I2C0_IC_INTR_MASK = 0; }

#endif

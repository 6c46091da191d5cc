/* Batches are over when they have been sent: nothing interrupts. */
#ifndef TREADLE_PORT_I2C_H
#define TREADLE_PORT_I2C_H

ALWAYS_INLINE void i2c_acknowledge(void) {}

#endif

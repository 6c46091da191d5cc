/* Batches of at most 16 bytes to one part on the bus; the sender never waits. */
#ifndef TREADLE_CHIP_I2C_H
#define TREADLE_CHIP_I2C_H

#include <stdbool.h>
#include <stdint.h>

#include "memory.h"

enum i2c_outcome { I2C_BUSY, I2C_DONE, I2C_NO_ANSWER };

void i2c_start(uint32_t address, uint32_t bus_hz);

/* Collect a batch: begin, put up to `i2c_room` bytes, send. `i2c_send` returns false for an empty batch. */
void i2c_begin(void);
void i2c_put(uint8_t byte);
uint32_t i2c_room(void);
bool i2c_send(void);

/* What became of the batch. */
enum i2c_outcome i2c_outcome(void);

/* Gives up a batch that does not end, and clocks out whoever holds the data line (I2C specification, 3.1.16). */
void i2c_free_bus(void);

/* In its interrupt, which comes when a batch is over: it has been seen. */
ALWAYS_INLINE void i2c_acknowledge(void);

#include <port/i2c.h>

#endif

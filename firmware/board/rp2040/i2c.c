#include "chip/i2c.h"

#include "chip/clock.h"
#include "chip/pin.h"
#include "clocks.h"
#include "display_bus.h"
#include "registers.h"

enum {
    FIFO_LENGTH = 16,
    DATA_STOP = 1 << 9,
    /* Master, "fast" timing registers (any speed up to 400 kHz), restart allowed, no slave, section 4.3.17 (i2c.h). */
    CON_MASTER = (1 << 6) | (1 << 5) | (2 << 1) | (1 << 0),
    HOLD_CYCLES = SYSTEM_HZ / 10000000 * 3 + 1, /* 300 ns, as the I2C specification asks; hardware_i2c */
    CLOCKS_TO_FREE = 9,
    HALF_CLOCK_US = 5,
};

static uint8_t batch[FIFO_LENGTH];
static uint32_t collected;
static uint32_t target;
static uint32_t speed_hz;

static void start_block(void) {
    uint32_t period = SYSTEM_HZ / speed_hz;
    I2C0_IC_ENABLE = 0;
    I2C0_IC_CON = CON_MASTER;
    I2C0_IC_TAR = target;
    I2C0_IC_FS_SCL_LCNT = period * 3 / 5;
    I2C0_IC_FS_SCL_HCNT = period - period * 3 / 5;
    I2C0_IC_FS_SPKLEN = 7; /* 50 ns */
    I2C0_IC_SDA_HOLD = HOLD_CYCLES;
    I2C0_IC_INTR_MASK = 0;
    I2C0_IC_ENABLE = 1;
}

void i2c_start(uint32_t address, uint32_t bus_hz) {
    target = address;
    speed_hz = bus_hz;
    start_block();
}

void i2c_begin(void) { collected = 0; }

void i2c_put(uint8_t byte) { batch[collected++] = byte; }

uint32_t i2c_room(void) { return FIFO_LENGTH - collected; }

/* The whole batch is in the FIFO before the first byte is out, so it cannot run dry. */
bool i2c_send(void) {
    if (collected == 0) return false;
    (void)I2C0_IC_CLR_INTR;
    for (uint32_t at = 0; at < collected; at++) {
        I2C0_IC_DATA_CMD = batch[at] | (at + 1 == collected ? DATA_STOP : 0u);
    }
    I2C0_IC_INTR_MASK = I2C_INTR_STOP_DET | I2C_INTR_TX_ABRT;
    return true;
}

enum i2c_outcome i2c_outcome(void) {
    uint32_t raw = I2C0_IC_RAW_INTR_STAT;
    if (raw & I2C_INTR_TX_ABRT) {
        (void)I2C0_IC_CLR_TX_ABRT;
        return I2C_NO_ANSWER;
    }
    return raw & I2C_INTR_STOP_DET ? I2C_DONE : I2C_BUSY;
}

static void wait_half_clock(void) {
    uint32_t from_us = clock_low_us();
    while (clock_low_us() - from_us <= HALF_CLOCK_US) {
    }
}

/* Open drain: a pin is let go by making it an input; its output level stays low. */
static void clock_once(void) {
    SIO_GPIO_OE_SET = 1u << PIN_DISPLAY_SCL;
    wait_half_clock();
    SIO_GPIO_OE_CLR = 1u << PIN_DISPLAY_SCL;
    wait_half_clock();
}

void i2c_free_bus(void) {
    I2C0_IC_ENABLE = 0;
    SIO_GPIO_OE_CLR = (1u << PIN_DISPLAY_SCL) | (1u << PIN_DISPLAY_SDA);
    SIO_GPIO_OUT_CLR = (1u << PIN_DISPLAY_SCL) | (1u << PIN_DISPLAY_SDA);
    pins_display_bus(PIN_FUNCTION_SIO);
    for (uint32_t count = 0; count < CLOCKS_TO_FREE; count++) clock_once();
    pins_display_bus(PIN_FUNCTION_I2C);
    start_block();
}

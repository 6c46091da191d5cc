/* The TWI master, a byte at a time and waited for: a batch of 16 takes the main loop 1.5 ms, and no interrupt. */
#include "chip/i2c.h"

#include "chip/clock.h"
#include "chip/pin.h"
#include "registers.h"

enum {
    BATCH_BYTES = 16,
    TWI_DISABLED = 0,
    TWI_ENABLED = 5,
    TWI_ERRORS = 7,
    BYTE_LIMIT_US = 1000, /* nine bits at 100 kHz take 90 */
    CLOCKS_TO_FREE = 9,
    HALF_CLOCK_US = 5,
};

static uint8_t batch[BATCH_BYTES];
static uint32_t collected;
static enum i2c_outcome outcome;

/* FREQUENCY in 2^32 / 16 MHz; the reference manual has 0x01980000 for 100 kHz. */
void i2c_start(uint32_t address, uint32_t bus_hz) {
    TWI_PSELSCL = PIN_DISPLAY_SCL;
    TWI_PSELSDA = PIN_DISPLAY_SDA;
    TWI_FREQUENCY = (uint32_t)(((uint64_t)bus_hz << 32) / 16000000u) & 0xfff80000u;
    TWI_ADDRESS = address;
    TWI_ENABLE = TWI_ENABLED;
}

void i2c_begin(void) { collected = 0; }

void i2c_put(uint8_t byte) { batch[collected++] = byte; }

uint32_t i2c_room(void) { return BATCH_BYTES - collected; }

/* Until the event comes; false when the part does not answer or the bus is stuck. */
static bool came(volatile uint32_t *event) {
    uint32_t from_us = clock_low_us();
    while (*event == 0) {
        if (TWI_EVENTS_ERROR != 0) return false;
        if (clock_low_us() - from_us > BYTE_LIMIT_US) return false;
    }
    return true;
}

static bool send_byte(uint8_t byte) {
    TWI_EVENTS_TXDSENT = 0;
    TWI_TXD = byte;
    return came(&TWI_EVENTS_TXDSENT);
}

static bool send_batch(void) {
    TWI_EVENTS_ERROR = 0;
    TWI_ERRORSRC = TWI_ERRORS;
    TWI_TASKS_STARTTX = 1;
    for (uint32_t at = 0; at < collected; at++) {
        if (!send_byte(batch[at])) return false;
    }
    return true;
}

bool i2c_send(void) {
    if (collected == 0) return false;
    bool was_sent = send_batch();
    TWI_EVENTS_STOPPED = 0;
    TWI_EVENTS_ERROR = 0;
    TWI_TASKS_STOP = 1;
    bool has_stopped = came(&TWI_EVENTS_STOPPED);
    outcome = was_sent && has_stopped ? I2C_DONE : I2C_NO_ANSWER;
    if (!has_stopped) i2c_free_bus();
    return true;
}

enum i2c_outcome i2c_outcome(void) { return outcome; }

static void wait_half_clock(void) {
    uint32_t from_us = clock_low_us();
    while (clock_low_us() - from_us <= HALF_CLOCK_US) {
    }
}

/* Open drain: set high, the pin is let go. */
void i2c_free_bus(void) {
    TWI_ENABLE = TWI_DISABLED;
    uint32_t clock_before = GPIO_PIN_CNF(PIN_DISPLAY_SCL);
    GPIO_OUTSET = 1u << PIN_DISPLAY_SCL;
    GPIO_PIN_CNF(PIN_DISPLAY_SCL) = clock_before | 1u;
    for (uint32_t count = 0; count < CLOCKS_TO_FREE; count++) {
        pin_set_low(PIN_DISPLAY_SCL);
        wait_half_clock();
        pin_set_high(PIN_DISPLAY_SCL);
        wait_half_clock();
    }
    GPIO_PIN_CNF(PIN_DISPLAY_SCL) = clock_before;
    TWI_ENABLE = TWI_ENABLED;
}

/*
 * The text display: an HD44780 controller in 4-bit mode behind a PCF8574 on I2C. What it should
 * show is kept here; the main loop sends a few cells at a time, as the bus has room, until the glass shows it.
 * Nothing ever waits for it, and one that is absent or pulled out is looked for again once a second.
 */
#ifndef TREADLE_DISPLAY_H
#define TREADLE_DISPLAY_H

#include <stdint.h>

void display_start(void);

/* Shows `length` characters on `row`, the rest of the row blank. Rows and lengths beyond the glass are cut. */
void display_show(int32_t row, const uint8_t *text, int32_t length);

/* Sends what the bus has room for. Returns the time at which to call again if nothing happens before. */
uint64_t display_poll(uint64_t now_us);

void display_interrupt(void);

#endif

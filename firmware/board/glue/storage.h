/*
 * The storage region: where in the flash it lies is the board's. One operation at a time, inside the region, and
 * never with the lamp on.
 */
#ifndef TREADLE_STORAGE_H
#define TREADLE_STORAGE_H

#include <stdbool.h>
#include <stdint.h>

void storage_start(void);

/* Copies stored bytes; what lies beyond the region reads as 0xFF. */
void storage_read(uint32_t offset, uint8_t *into, uint32_t length);

/* Ask for one operation. With the lamp on, outside the region or over a page's edge it is done at once, and not ok. */
void storage_program(uint32_t offset, const uint8_t *from, uint32_t length);
void storage_erase(uint32_t offset);

/* Begins or continues the operation asked for, as far as it goes before news is urgent. */
void storage_poll(void);

/* Whether the operation is over; `ok` is false when it was refused or did not verify. */
bool storage_take_done(bool *ok);

#endif

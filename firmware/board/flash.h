/*
 * The storage region: the last TREADLE_STORAGE_BYTES of a 2 MB flash chip, which also holds the program. While
 * the chip programs or erases, nothing can be read from it, so that code runs from RAM; if somebody needs the
 * core meanwhile (the pedal, a deadline), the chip is told to suspend and goes on later. Never with the lamp on.
 */
#ifndef TREADLE_FLASH_H
#define TREADLE_FLASH_H

#include <stdbool.h>
#include <stdint.h>

#include "generated/limits.h"

#define FLASH_BYTES 0x200000u
#define FLASH_STORAGE_AT (FLASH_BYTES - TREADLE_STORAGE_BYTES)

enum { FLASH_ID_BYTES = 8 };

/* Reads the chip's identity and finishes what a reset may have left suspended. */
void flash_start(void);

/* The chip's unique number. */
void flash_id(uint8_t *into);

/* Copies stored bytes; what lies beyond the region reads as 0xFF. */
void flash_read(uint32_t offset, uint8_t *into, uint32_t length);

/* Ask for one operation. With the lamp on, outside the region or over a page's edge it is done at once, and not ok. */
void flash_program(uint32_t offset, const uint8_t *from, uint32_t length);
void flash_erase(uint32_t offset);

/* Begins or continues the operation asked for, as far as it goes before somebody is waiting. */
void flash_poll(void);

/* Whether the operation is over; `ok` is false when it was refused or did not verify. */
bool flash_take_done(bool *ok);

/* Whether flash_poll has work to do now, or has done it and the core does not know yet. */
bool flash_waiting(void);

#endif

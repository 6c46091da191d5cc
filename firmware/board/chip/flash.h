/*
 * The flash chip that holds the program, and at its end the board's storage. While it programs or erases, nothing
 * can be read from it, so that code runs from RAM; if somebody has urgent news meanwhile, the chip is told to
 * suspend and goes on later. A chip that no longer answers stops the board.
 */
#ifndef TREADLE_CHIP_FLASH_H
#define TREADLE_CHIP_FLASH_H

#include <stdbool.h>
#include <stdint.h>

#include "generated/limits.h"
#include "memory.h"

enum { FLASH_ID_BYTES = 8 };

/* One page or part of one to program, or one sector to erase; addresses are the chip's own. */
struct flash_operation {
    uint32_t address;
    uint32_t length; /* of `page`; 0 for an erase */
    uint32_t spent_us; /* of the operation's limit, suspended time not counted */
    bool is_suspended;
    uint8_t page[TREADLE_PAGE_BYTES];
};

/* Reads the chip's identity and finishes what a reset may have left suspended. */
void flash_start(void);

/* The chip's unique number. */
void flash_id(uint8_t *into);

/* Begins or continues, as far as it goes before news is urgent: true when it is over. What came of it has to be read. */
bool flash_run(struct flash_operation *operation);

/* The chip's bytes as they are now, past every cache. */
ALWAYS_INLINE const volatile uint8_t *flash_bytes(uint32_t address);

#include <port/flash.h>

#endif

/*
 * The controller of the chip's own flash: words to program, pages of 1 KiB to erase. It holds the processor up while it
 * works, so a sector's erase makes way for news between two pages.
 */
#include "chip/flash.h"

#include "chip/memory.h"
#include "chip/sleep.h"
#include "chip/watchdog.h"
#include "registers.h"

enum { READS = 0, WRITES = 1, ERASES = 2, PAGE_BYTES = 1024, WORD_BYTES = 4, ERASED_BYTE = 0xff };

static uint32_t pages_erased; /* of the operation under way */

IN_RAM static void wait_until_ready(void) {
    while (NVMC_READY == 0) {
    }
}

IN_RAM static void allow(uint32_t what) {
    NVMC_CONFIG = what;
    wait_until_ready();
}

/* The four bytes of a page that is being programmed; those outside it are left as they are. */
ALWAYS_INLINE uint32_t word_of(const struct flash_operation *operation, uint32_t address) {
    uint32_t word = 0;
    for (uint32_t byte = 0; byte < WORD_BYTES; byte++) {
        uint32_t at = address + byte - operation->address;
        word |= (uint32_t)(at < operation->length ? operation->page[at] : ERASED_BYTE) << (8 * byte);
    }
    return word;
}

IN_RAM static void program(const struct flash_operation *operation) {
    uint32_t end = operation->address + operation->length;
    allow(WRITES);
    for (uint32_t at = operation->address & ~(WORD_BYTES - 1u); at < end; at += WORD_BYTES) {
        *(volatile uint32_t *)(uintptr_t)at = word_of(operation, at);
        wait_until_ready();
    }
    allow(READS);
}

IN_RAM static void erase_page(uint32_t address) {
    allow(ERASES);
    NVMC_ERASEPAGE = address;
    wait_until_ready();
    allow(READS);
}

/* False when it makes way. */
IN_RAM static bool erase(struct flash_operation *operation) {
    if (!operation->is_suspended) pages_erased = 0;
    while (pages_erased < TREADLE_SECTOR_BYTES / PAGE_BYTES) {
        watchdog_feed(WATCHDOG_US);
        erase_page(operation->address + pages_erased * PAGE_BYTES);
        pages_erased++;
        if (wake_is_urgent() && pages_erased < TREADLE_SECTOR_BYTES / PAGE_BYTES) return false;
    }
    return true;
}

/* Power that fails in the middle leaves nothing under way. */
void flash_start(void) { allow(READS); }

bool flash_run(struct flash_operation *operation) {
    bool is_over = true;
    if (operation->length > 0) program(operation);
    else is_over = erase(operation);
    operation->is_suspended = !is_over;
    return is_over;
}

void flash_id(uint8_t *into) {
    for (uint32_t at = 0; at < FLASH_ID_BYTES; at++) into[at] = (uint8_t)(FICR_DEVICEID(at / WORD_BYTES) >> (8 * (at % WORD_BYTES)));
}

/* Storage is read past the cache, which therefore never holds a byte of it that programming made stale. */
#ifndef TREADLE_PORT_FLASH_H
#define TREADLE_PORT_FLASH_H

#include "../registers.h"

ALWAYS_INLINE const volatile uint8_t *flash_bytes(uint32_t address) {
    return (const volatile uint8_t *)(uintptr_t)(XIP_NOCACHE_NOALLOC_BASE + address);
}

#endif

#ifndef TREADLE_PORT_FLASH_H
#define TREADLE_PORT_FLASH_H

ALWAYS_INLINE const volatile uint8_t *flash_bytes(uint32_t address) { return (const volatile uint8_t *)(uintptr_t)address; }

#endif

/*
 * Where code and constants lie. The chip's port gives IN_RAM, RAM_CONSTANT and ALWAYS_INLINE: what must run while
 * the flash is not readable, and everything that interrupts reach.
 */
#ifndef TREADLE_CHIP_MEMORY_H
#define TREADLE_CHIP_MEMORY_H

#include <port/memory.h>

#endif

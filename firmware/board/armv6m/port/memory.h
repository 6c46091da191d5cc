/* Sections of image.ld. */
#ifndef TREADLE_PORT_MEMORY_H
#define TREADLE_PORT_MEMORY_H

#define IN_RAM __attribute__((section(".ram_text"), noinline))
#define RAM_CONSTANT __attribute__((section(".data")))
#define ALWAYS_INLINE static inline __attribute__((always_inline))

#endif

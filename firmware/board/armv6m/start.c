/*
 * From the vector table to main. The stack lies at the very bottom of RAM: one that overflows runs into
 * addresses where nothing is, and that is a fault, not a silently changed variable.
 */
#include "chip/pin.h"
#include "clocks.h"
#include "port/storage.h"

/* The linker script's marks. */
extern uint32_t image_stack_top, image_data_load, image_data_start, image_data_end, image_bss_start, image_bss_end;

/* For image.ld, which refuses a program that reaches into the storage. */
#define TEXT_OF(number) #number
#define ABSOLUTE_SYMBOL(name, number) __asm__(".global " #name "\n.equ " #name ", " TEXT_OF(number))
ABSOLUTE_SYMBOL(image_storage_at, STORAGE_AT);

typedef void (*entry)(void);

int main(void);
void reset(void) __attribute__((noreturn, used));

/* Where the program takes its stack and its start from; the rest of a chip's table is its own affair. */
__attribute__((section(".boot_vectors"), used)) static const entry boot_vectors[2] = {
    (entry)&image_stack_top,
    reset,
};

static void ram_start(void) {
    const uint32_t *from = &image_data_load;
    for (uint32_t *to = &image_data_start; to < &image_data_end;) *to++ = *from++;
    for (uint32_t *to = &image_bss_start; to < &image_bss_end;) *to++ = 0;
}

/* Relays off, then speed, then memory: the ring oscillator would take 30 ms to clear the core's page. */
void reset(void) {
    pins_start();
    clocks_start();
    ram_start();
    main();
    __builtin_unreachable();
}

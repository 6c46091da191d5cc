/*
 * The boot ROM's functions are found by two letters each in a table that it points to (RP2040 datasheet section 2.8.3;
 * pico-sdk 2.2.0, src/rp2_common/pico_bootrom/include/pico/bootrom.h and bootrom_constants.h).
 */
#include "chip/boot_program.h"

#include "chip/interrupts.h"
#include "chip/pin.h"
#include "registers.h"
#include "run_mark.h"

enum { ROM_FUNCTION_TABLE = 0x14, ROM_TABLE_LOOKUP = 0x18 };
enum { ROM_RESET_USB_BOOT = 'U' | 'B' << 8 };
/* No pin blinks; of its two interfaces the drive is enough. */
enum { NO_PINS = 0, WITHOUT_PICOBOOT = 2 };

typedef void *(*table_lookup)(const uint16_t *table, uint32_t code);
typedef void (*reset_usb_boot)(uint32_t activity_pins, uint32_t disabled_interfaces);

/* Pointers of half a word; the compiler is not to know that they are near zero, where it takes nothing to be. */
static uintptr_t rom_pointer(uintptr_t at) {
    __asm__ volatile("" : "+r"(at));
    return *(const volatile uint16_t *)at;
}

/*
 * The boot ROM resets the chip by the watchdog first, so that every peripheral and the other core, which never ran, are as
 * after power-up (pico-bootrom-rp2040, bootrom_main.c). Ours must not come in between.
 */
void boot_program_start(void) {
    interrupts_off();
    pin_set_low(PIN_LAMP_RELAY);
    CLEAR_ALIAS(WATCHDOG_CTRL) = WATCHDOG_CTRL_ENABLE;
    run_mark_clear();
    table_lookup look_up = (table_lookup)rom_pointer(ROM_TABLE_LOOKUP);
    const uint16_t *table = (const uint16_t *)rom_pointer(ROM_FUNCTION_TABLE);
    ((reset_usb_boot)look_up(table, ROM_RESET_USB_BOOT))(NO_PINS, WITHOUT_PICOBOOT);
    for (;;) {
    }
}

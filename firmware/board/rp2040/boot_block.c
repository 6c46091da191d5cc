/*
 * The second stage (RP2040 datasheet section 2.8.1.3): the boot ROM copies these 252 bytes and their CRC-32 to
 * RAM and jumps to the first. They turn the flash into memory and go on at the image's vector table.
 */
#define XIP_CODE __attribute__((section(".boot_block.rest"))) static

#include "xip.h"

enum { SCLK_FAST_8_MA = (2 << 4) | 1 }; /* section 2.19.6.4; as the SDK's boot2_w25q080.S sets it */

#define IMAGE_VECTORS (XIP_BASE + 0x100u)

/* Four-wire reads need the chip's quad-enable bit; it is non-volatile, so it is written once in a chip's life. */
XIP_CODE void enable_quad(void) {
    if (xip_command(FLASH_READ_STATUS_2, 2) & FLASH_STATUS_2_QUAD_ENABLED) return;
    xip_command(FLASH_WRITE_ENABLE, 1);
    xip_command(FLASH_WRITE_STATUS | FLASH_STATUS_2_QUAD_ENABLED << 16, 3);
    while (xip_command(FLASH_READ_STATUS, 2) & FLASH_STATUS_BUSY) {
    }
}

__attribute__((section(".boot_block.entry"), noreturn, used)) void boot_block(void) {
    PADS_QSPI_GPIO_QSPI_SCLK = SCLK_FAST_8_MA;
    xip_leave();
    enable_quad();
    xip_enter();
    M0PLUS_VTOR = IMAGE_VECTORS;
    __asm__ volatile("ldmia %0!, {r0, r1}\n\tmsr msp, r0\n\tbx r1" : : "l"(IMAGE_VECTORS) : "r0", "r1", "memory");
    __builtin_unreachable();
}

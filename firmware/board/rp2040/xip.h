/*
 * The two ways to talk to the flash chip through the SSI (RP2040 datasheet section 4.10): bytes to and from it
 * as a serial device, and reading it as memory (execute in place). The boot block and the flash driver each have
 * their own copy, where XIP_CODE says, because neither can read the flash meanwhile. Commands are those of a 2 MB
 * serial NOR (W25Q16JV): reading, status, write enable and identity as in pico-sdk 2.2.0 (boot2_w25q080.S,
 * hardware_flash), program, erase, suspend and resume as in 7.2.27 of its sibling's data sheet (W25Q32BV); that SUS is
 * bit 7 of the second status register is from memory.
 */
#ifndef TREADLE_XIP_H
#define TREADLE_XIP_H

#include <stdint.h>

#include "registers.h"

enum {
    FLASH_WRITE_STATUS = 0x01,
    FLASH_PAGE_PROGRAM = 0x02,
    FLASH_READ_STATUS = 0x05,
    FLASH_WRITE_ENABLE = 0x06,
    FLASH_SECTOR_ERASE = 0x20,
    FLASH_READ_STATUS_2 = 0x35,
    FLASH_UNIQUE_ID = 0x4b,
    FLASH_SUSPEND = 0x75,
    FLASH_RESUME = 0x7a,
    FLASH_FAST_READ_QUAD_IO = 0xeb,

    FLASH_STATUS_BUSY = 1 << 0,
    FLASH_STATUS_2_QUAD_ENABLED = 1 << 1,
    FLASH_STATUS_2_SUSPENDED = 1 << 7,

    /* The mode byte after an address that lets the next read begin without its command. */
    FLASH_MODE_CONTINUOUS = 0xa0,
};

/* Fields as in the vendor's ssi.h and io_qspi.h; divider, delay, wait cycles and mode as in boot2_w25q080.S. */
enum {
    SSI_DIVIDER = 4,      /* the flash's clock: 31 MHz of 125, far below what any such chip bears */
    SSI_SAMPLE_DELAY = 1, /* the answer is taken one system clock later, section 4.10.11.1 */
    CTRLR0_SERIAL_BYTES = 7 << 16,                       /* 8-bit frames, plain SPI, both ways at once */
    CTRLR0_QUAD_WORDS = (2 << 21) | (31 << 16) | (3 << 8), /* 32-bit frames, quad, read after an address */
    SPI_CTRLR0_ADDRESS_AND_MODE = (4 << 11) | (8 << 2),  /* 4 wait cycles, 8 nibbles: 24 bits and the mode byte */
    SPI_CTRLR0_COMMAND_SERIAL = (2 << 8) | 1,            /* 8-bit command on one wire, address on four */
    SPI_CTRLR0_NO_COMMAND = 2,                           /* straight to the address, on four wires */
    SELECT_LOW = 2 << 8,
    SELECT_HIGH = 3 << 8,
    SELECT_BY_SSI = 0,
};

XIP_CODE void xip_wait_for_ssi(void) {
    while (!(SSI->sr & SSI_SR_TFE) || (SSI->sr & SSI_SR_BUSY)) {
    }
}

XIP_CODE void xip_configure(uint32_t frames) {
    SSI->ssienr = 0;
    SSI->baudr = SSI_DIVIDER;
    SSI->rx_sample_dly = SSI_SAMPLE_DELAY;
    SSI->ctrlr0 = frames;
    SSI->ctrlr1 = 0;
}

/*
 * The chip's select line is driven by its pin's override, not by the SSI, which lets go whenever its FIFO runs
 * dry: an interrupt in the middle of a command must not end it (section 2.19.6.2).
 */
XIP_CODE void xip_select(uint32_t how) { IO_QSPI_GPIO_QSPI_SS_CTRL = how; }

/* From memory to serial device. */
XIP_CODE void xip_leave(void) {
    xip_configure(CTRLR0_SERIAL_BYTES);
    SSI->ser = 1;
    SSI->ssienr = 1;
}

/* Sends the low byte and takes the one that comes back; a frame of 8 bits ignores the rest of its register. */
XIP_CODE uint32_t xip_exchange(uint32_t byte) {
    SSI->dr0 = byte;
    while (!(SSI->sr & SSI_SR_RFNE)) {
    }
    return SSI->dr0;
}

/* One whole command of 1 to 4 bytes, the first in the low byte; returns what came back with the last. */
XIP_CODE uint32_t xip_command(uint32_t bytes, uint32_t count) {
    uint32_t answer;
    xip_select(SELECT_LOW);
    do {
        answer = xip_exchange(bytes);
        bytes >>= 8;
    } while (--count != 0);
    xip_select(SELECT_HIGH);
    return answer;
}

/* From serial device to memory: one read with its command sets the mode, all others begin with the address. */
XIP_CODE void xip_enter(void) {
    xip_select(SELECT_BY_SSI);
    xip_configure(CTRLR0_QUAD_WORDS);
    SSI->spi_ctrlr0 = SPI_CTRLR0_ADDRESS_AND_MODE | SPI_CTRLR0_COMMAND_SERIAL;
    SSI->ssienr = 1;
    SSI->dr0 = FLASH_FAST_READ_QUAD_IO;
    SSI->dr0 = FLASH_MODE_CONTINUOUS;
    xip_wait_for_ssi();
    SSI->ssienr = 0;
    SSI->spi_ctrlr0 =
        ((uint32_t)FLASH_MODE_CONTINUOUS << 24) | SPI_CTRLR0_ADDRESS_AND_MODE | SPI_CTRLR0_NO_COMMAND;
    SSI->ssienr = 1;
}

#endif

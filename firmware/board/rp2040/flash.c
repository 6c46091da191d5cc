#define XIP_CODE __attribute__((section(".ram_text"))) static

#include "chip/flash.h"

#include "chip/clock.h"
#include "chip/fault.h"
#include "chip/sleep.h"
#include "chip/watchdog.h"
#include "xip.h"

/* The longest that W25Q16JV's data sheet allows, with margin: 3 ms a page, 400 ms a sector; these times from memory. */
enum {
    PROGRAM_LIMIT_US = 20000,
    ERASE_LIMIT_US = 2000000,
    PROGRAM_POLL_US = 50,
    ERASE_POLL_US = 500,
    RUN_AT_LEAST_US = 200, /* between a resume and the next suspend, and an erase gets on; at least tSUS */
    SUSPEND_LIMIT_US = 500, /* the data sheet's tSUS is 20 us */
    END_CONTINUOUS_READ = 0xff,
    ID_DUMMY_BYTES = 4,
};

enum progress { PROGRESS_FINISHED, PROGRESS_SUSPENDED, PROGRESS_GOES_ON, PROGRESS_NO_ANSWER };

static uint8_t id[FLASH_ID_BYTES];
static bool knows_suspend = true;

XIP_CODE void become_serial(void) {
    xip_wait_for_ssi();
    xip_leave();
    xip_command(END_CONTINUOUS_READ, 1);
}

XIP_CODE bool is_busy(void) { return xip_command(FLASH_READ_STATUS, 2) & FLASH_STATUS_BUSY; }

/* Command and 24-bit address, most significant byte first; the select line stays low for what follows. */
XIP_CODE void send_command_and_address(uint32_t command, uint32_t address) {
    xip_select(SELECT_LOW);
    xip_exchange(command);
    xip_exchange(address >> 16);
    xip_exchange(address >> 8);
    xip_exchange(address);
}

XIP_CODE bool is_erase(const struct flash_operation *operation) { return operation->length == 0; }

XIP_CODE void begin_operation(const struct flash_operation *operation) {
    xip_command(FLASH_WRITE_ENABLE, 1);
    send_command_and_address(is_erase(operation) ? FLASH_SECTOR_ERASE : FLASH_PAGE_PROGRAM, operation->address);
    for (uint32_t at = 0; at < operation->length; at++) xip_exchange(operation->page[at]);
    xip_select(SELECT_HIGH);
}

/*
 * Interrupts the chip's work. It may have finished just before, and a chip that does not know the command simply
 * goes on; then it is waited for.
 */
XIP_CODE enum progress suspend(void) {
    uint32_t from_us = clock_low_us();
    xip_command(FLASH_SUSPEND, 1);
    while (is_busy()) {
        if (clock_low_us() - from_us > SUSPEND_LIMIT_US) return PROGRESS_GOES_ON;
    }
    bool is_suspended = xip_command(FLASH_READ_STATUS_2, 2) & FLASH_STATUS_2_SUSPENDED;
    return is_suspended ? PROGRESS_SUSPENDED : PROGRESS_FINISHED;
}

/* Sleeps and looks until the chip is ready, somebody waits, or the limit is over. */
XIP_CODE enum progress wait_for_chip(struct flash_operation *operation) {
    uint32_t limit_us = is_erase(operation) ? ERASE_LIMIT_US : PROGRAM_LIMIT_US;
    uint32_t from_us = clock_low_us();
    while (is_busy()) {
        uint32_t run_us = clock_low_us() - from_us;
        if (operation->spent_us + run_us > limit_us) return PROGRESS_NO_ANSWER;
        if (run_us >= RUN_AT_LEAST_US && knows_suspend && wake_is_urgent()) {
            operation->spent_us += run_us;
            enum progress progress = suspend();
            if (progress != PROGRESS_GOES_ON) return progress;
            knows_suspend = false;
            from_us = clock_low_us();
        }
        watchdog_feed(WATCHDOG_US);
        sleep_for_us(is_erase(operation) ? ERASE_POLL_US : PROGRAM_POLL_US);
    }
    return PROGRESS_FINISHED;
}

IN_RAM static void stop_without_flash(void) { fault_stop(START_CAUSE_FLASH_FAULT, 0); }

IN_RAM bool flash_run(struct flash_operation *operation) {
    become_serial();
    if (operation->is_suspended) xip_command(FLASH_RESUME, 1);
    else begin_operation(operation);
    enum progress progress = wait_for_chip(operation);
    if (progress == PROGRESS_NO_ANSWER) stop_without_flash();
    operation->is_suspended = progress == PROGRESS_SUSPENDED;
    xip_enter();
    return !operation->is_suspended;
}

IN_RAM static void read_id(void) {
    become_serial();
    xip_select(SELECT_LOW);
    xip_exchange(FLASH_UNIQUE_ID);
    for (uint32_t count = 0; count < ID_DUMMY_BYTES; count++) xip_exchange(0);
    for (uint32_t at = 0; at < FLASH_ID_BYTES; at++) id[at] = (uint8_t)xip_exchange(0);
    xip_select(SELECT_HIGH);
    xip_enter();
}

/* A reset does not reach the chip: an erase that was suspended then still is. */
IN_RAM static void finish_suspended(void) {
    become_serial();
    if (xip_command(FLASH_READ_STATUS_2, 2) & FLASH_STATUS_2_SUSPENDED) {
        xip_command(FLASH_RESUME, 1);
        uint32_t from_us = clock_low_us();
        while (is_busy()) {
            if (clock_low_us() - from_us > ERASE_LIMIT_US) stop_without_flash();
        }
    }
    xip_enter();
}

void flash_start(void) {
    finish_suspended();
    read_id();
}

void flash_id(uint8_t *into) {
    for (uint32_t at = 0; at < FLASH_ID_BYTES; at++) into[at] = id[at];
}

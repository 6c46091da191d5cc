#define XIP_CODE __attribute__((section(".ram_text"))) static

#include "flash.h"

#include "clock.h"
#include "events.h"
#include "fault.h"
#include "lamp.h"
#include "sleep.h"
#include "watchdog.h"
#include "xip.h"

/* The longest that W25Q16JV's data sheet allows, with margin: 3 ms a page, 400 ms a sector. */
enum {
    PROGRAM_LIMIT_US = 20000,
    ERASE_LIMIT_US = 2000000,
    PROGRAM_POLL_US = 50,
    ERASE_POLL_US = 500,
    RUN_AT_LEAST_US = 200, /* between a resume and the next suspend, so that an erase gets on */
    SUSPEND_LIMIT_US = 500, /* the data sheet's tSUS is 20 us */
    END_CONTINUOUS_READ = 0xff,
    ID_DUMMY_BYTES = 4,
    ERASED_WORD = 0xffffffff,
};

enum state { STATE_IDLE, STATE_ASKED, STATE_SUSPENDED, STATE_DONE };
enum progress { PROGRESS_FINISHED, PROGRESS_SUSPENDED, PROGRESS_GOES_ON, PROGRESS_NO_ANSWER };

static volatile enum state state;
static bool done_ok;
static bool is_erase;
static uint32_t address;  /* in the chip */
static uint32_t spent_us; /* of the operation's limit, suspended time not counted */
static uint8_t page[TREADLE_PAGE_BYTES];
static uint32_t page_length;
static uint8_t id[FLASH_ID_BYTES];
static bool knows_suspend = true;

XIP_CODE void become_serial(void) {
    xip_wait_for_ssi();
    xip_leave();
    xip_command(END_CONTINUOUS_READ, 1);
}

XIP_CODE bool is_busy(void) { return xip_command(FLASH_READ_STATUS, 2) & FLASH_STATUS_BUSY; }

/* Command and 24-bit address, most significant byte first; the select line stays low for what follows. */
XIP_CODE void send_command_and_address(uint32_t command) {
    xip_select(SELECT_LOW);
    xip_exchange(command);
    xip_exchange(address >> 16);
    xip_exchange(address >> 8);
    xip_exchange(address);
}

XIP_CODE void begin_operation(void) {
    xip_command(FLASH_WRITE_ENABLE, 1);
    send_command_and_address(is_erase ? FLASH_SECTOR_ERASE : FLASH_PAGE_PROGRAM);
    for (uint32_t at = 0; at < page_length; at++) xip_exchange(page[at]);
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
XIP_CODE enum progress wait_for_chip(void) {
    uint32_t from_us = clock_low_us();
    while (is_busy()) {
        uint32_t run_us = clock_low_us() - from_us;
        if (spent_us + run_us > (is_erase ? ERASE_LIMIT_US : PROGRAM_LIMIT_US)) return PROGRESS_NO_ANSWER;
        if (run_us >= RUN_AT_LEAST_US && knows_suspend && events_are_urgent()) {
            spent_us += run_us;
            enum progress progress = suspend();
            if (progress != PROGRESS_GOES_ON) return progress;
            knows_suspend = false;
            from_us = clock_low_us();
        }
        watchdog_feed(WATCHDOG_US);
        sleep_for_us(is_erase ? ERASE_POLL_US : PROGRAM_POLL_US);
    }
    return PROGRESS_FINISHED;
}

IN_RAM static enum progress run(bool from_suspended) {
    become_serial();
    if (from_suspended) xip_command(FLASH_RESUME, 1);
    else begin_operation();
    enum progress progress = wait_for_chip();
    if (progress == PROGRESS_NO_ANSWER) fault_flash();
    xip_enter();
    return progress;
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
            if (clock_low_us() - from_us > ERASE_LIMIT_US) fault_flash();
        }
    }
    xip_enter();
}

/* Storage is read past the cache, which therefore never holds a byte of it that programming made stale. */
static const volatile uint8_t *stored(uint32_t at) {
    return (const volatile uint8_t *)(XIP_NOCACHE_NOALLOC_BASE + at);
}

static bool verifies(void) {
    if (!is_erase) {
        for (uint32_t at = 0; at < page_length; at++) {
            if (stored(address)[at] != page[at]) return false;
        }
        return true;
    }
    const volatile uint32_t *words = (const volatile uint32_t *)(XIP_NOCACHE_NOALLOC_BASE + address);
    for (uint32_t at = 0; at < TREADLE_SECTOR_BYTES / sizeof *words; at++) {
        if (words[at] != ERASED_WORD) return false;
    }
    return true;
}

static void finish(bool ok) {
    done_ok = ok;
    state = STATE_DONE;
}

static bool lies_inside(uint32_t offset, uint32_t length) {
    return offset < TREADLE_STORAGE_BYTES && length <= TREADLE_STORAGE_BYTES - offset;
}

static void ask(uint32_t offset, bool erase, uint32_t length) {
    is_erase = erase;
    page_length = length;
    address = FLASH_STORAGE_AT + offset;
    spent_us = 0;
    state = STATE_ASKED;
}

void flash_start(void) {
    finish_suspended();
    read_id();
}

void flash_id(uint8_t *into) {
    for (uint32_t at = 0; at < FLASH_ID_BYTES; at++) into[at] = id[at];
}

/* A word at a time where both ends allow it: a read past the cache costs the same for one byte as for four. */
void flash_read(uint32_t offset, uint8_t *into, uint32_t length) {
    uint32_t at = 0;
    while (at < length && lies_inside(offset + at, 1)) {
        bool whole_word = length - at >= 4 && ((offset + at) | ((uintptr_t)into + at)) % 4 == 0;
        if (whole_word) {
            *(uint32_t *)(void *)(into + at) =
                *(const volatile uint32_t *)(XIP_NOCACHE_NOALLOC_BASE + FLASH_STORAGE_AT + offset + at);
            at += 4;
        } else {
            into[at] = stored(FLASH_STORAGE_AT + offset)[at];
            at += 1;
        }
    }
    for (; at < length; at++) into[at] = 0xff;
}

void flash_program(uint32_t offset, const uint8_t *from, uint32_t length) {
    uint32_t room = TREADLE_PAGE_BYTES - offset % TREADLE_PAGE_BYTES;
    if (state == STATE_ASKED || state == STATE_SUSPENDED) return;
    if (lamp_is_on() || !lies_inside(offset, length) || length == 0 || length > room) {
        finish(false);
        return;
    }
    for (uint32_t at = 0; at < length; at++) page[at] = from[at];
    ask(offset, false, length);
}

void flash_erase(uint32_t offset) {
    if (state == STATE_ASKED || state == STATE_SUSPENDED) return;
    if (lamp_is_on() || !lies_inside(offset, TREADLE_SECTOR_BYTES) || offset % TREADLE_SECTOR_BYTES != 0) {
        finish(false);
        return;
    }
    ask(offset, true, 0);
}

IN_RAM static bool can_run(void) { return (state == STATE_ASKED || state == STATE_SUSPENDED) && !lamp_is_on(); }

IN_RAM bool flash_waiting(void) { return state == STATE_DONE || can_run(); }

void flash_poll(void) {
    if (!can_run() || events_are_urgent()) return;
    enum progress progress = run(state == STATE_SUSPENDED);
    if (progress == PROGRESS_SUSPENDED) state = STATE_SUSPENDED;
    else finish(verifies());
}

bool flash_take_done(bool *ok) {
    if (state != STATE_DONE) return false;
    state = STATE_IDLE;
    *ok = done_ok;
    return true;
}

#include "storage.h"

#include <port/storage.h>

#include "chip/flash.h"
#include "chip/sleep.h"
#include "devices/lamp.h"
#include "generated/limits.h"

_Static_assert(STORAGE_BYTES >= TREADLE_STORAGE_BYTES, "the core lays out more storage than this board has");
_Static_assert(STORAGE_AT % TREADLE_SECTOR_BYTES == 0, "storage begins with a whole sector");

enum { WORD_BYTES = sizeof(uint32_t) };
#define ERASED_WORD 0xffffffffu

enum state { STATE_IDLE, STATE_ASKED, STATE_DONE };

static enum state state;
static bool done_ok;
static struct flash_operation operation;

static uint32_t stored_word(uint32_t address) { return *(const volatile uint32_t *)(const volatile void *)flash_bytes(address); }

static bool verifies_program(void) {
    const volatile uint8_t *stored = flash_bytes(operation.address);
    for (uint32_t at = 0; at < operation.length; at++) {
        if (stored[at] != operation.page[at]) return false;
    }
    return true;
}

static bool verifies_erase(void) {
    for (uint32_t at = 0; at < TREADLE_SECTOR_BYTES; at += WORD_BYTES) {
        if (stored_word(operation.address + at) != ERASED_WORD) return false;
    }
    return true;
}

static void finish(bool ok) {
    done_ok = ok;
    state = STATE_DONE;
    wake();
}

static bool lies_inside(uint32_t offset, uint32_t length) {
    return offset < STORAGE_BYTES && length <= STORAGE_BYTES - offset;
}

static void ask(uint32_t offset, uint32_t length) {
    operation.address = STORAGE_AT + offset;
    operation.length = length;
    operation.spent_us = 0;
    operation.is_suspended = false;
    state = STATE_ASKED;
}

void storage_start(void) { flash_start(); }

/* A word at a time where both ends allow it: a read past the cache costs the same for one byte as for four. */
void storage_read(uint32_t offset, uint8_t *into, uint32_t length) {
    uint32_t at = 0;
    while (at < length && lies_inside(offset + at, 1)) {
        bool whole_word = length - at >= WORD_BYTES && ((offset + at) | ((uintptr_t)into + at)) % WORD_BYTES == 0;
        if (whole_word) {
            *(uint32_t *)(void *)(into + at) = stored_word(STORAGE_AT + offset + at);
            at += WORD_BYTES;
        } else {
            into[at] = *flash_bytes(STORAGE_AT + offset + at);
            at += 1;
        }
    }
    for (; at < length; at++) into[at] = 0xff;
}

void storage_program(uint32_t offset, const uint8_t *from, uint32_t length) {
    uint32_t room = TREADLE_PAGE_BYTES - offset % TREADLE_PAGE_BYTES;
    if (state == STATE_ASKED) return;
    if (lamp_is_on() || !lies_inside(offset, length) || length == 0 || length > room) {
        finish(false);
        return;
    }
    for (uint32_t at = 0; at < length; at++) operation.page[at] = from[at];
    ask(offset, length);
}

void storage_erase(uint32_t offset) {
    if (state == STATE_ASKED) return;
    if (lamp_is_on() || !lies_inside(offset, TREADLE_SECTOR_BYTES) || offset % TREADLE_SECTOR_BYTES != 0) {
        finish(false);
        return;
    }
    ask(offset, 0);
}

/* The lamp's end wakes the main loop, so an operation that waits for it is not forgotten. */
void storage_poll(void) {
    if (state != STATE_ASKED || lamp_is_on() || wake_is_urgent()) return;
    if (flash_run(&operation)) finish(operation.length == 0 ? verifies_erase() : verifies_program());
}

bool storage_take_done(bool *ok) {
    if (state != STATE_DONE) return false;
    state = STATE_IDLE;
    *ok = done_ok;
    return true;
}

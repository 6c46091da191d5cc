/*
 * The core's imports, one for one with firmware/core/board.ts. Addresses are the core's; they are checked here,
 * because everything behind this file believes its arguments.
 */
#include "chip/boot_program.h"
#include "chip/fault.h"
#include "chip/flash.h"
#include "core.h"
#include "deadline.h"
#include "devices/display.h"
#include "devices/display_light.h"
#include "devices/lamp.h"
#include "devices/safelight.h"
#include "devices/serial.h"
#include "devices/tone.h"
#include "light.h"
#include "storage.h"

typedef struct Z_board_instance_t board;

extern uint8_t core_memory[];
enum { CORE_BYTES = 65536 };

static uint8_t *core_bytes(u32 at, u32 length) {
    if (at > CORE_BYTES || length > CORE_BYTES - at) fault_stop(START_CAUSE_TRAP, FAULT_BAD_ADDRESS);
    return core_memory + at;
}

void Z_boardZ_exposeUs(board *self, u32 on_us) {
    (void)self;
    light_for(on_us);
}

void Z_boardZ_focusUs(board *self, u32 limit_us) {
    (void)self;
    light_for(limit_us);
}

void Z_boardZ_lampOff(board *self) {
    (void)self;
    lamp_off();
}

void Z_boardZ_safelight(board *self, u32 on) {
    (void)self;
    safelight_set(on != 0);
}

/* Only a hand sends the board away; the core promises it, and this keeps it. */
void Z_boardZ_makeWay(board *self) {
    (void)self;
    lamp_off();
    if (light_is_forbidden()) fault_stop(START_CAUSE_TRAP, FAULT_WAY_BY_LINE);
    boot_program_start();
}

void Z_boardZ_wakeAtUs(board *self, u64 at_us) {
    (void)self;
    deadline_set((int64_t)at_us);
}

void Z_boardZ_showLine(board *self, u32 row, u32 text, u32 length) {
    (void)self;
    display_show((int32_t)row, core_bytes(text, length), (int32_t)length);
}

void Z_boardZ_displayLight(board *self, u32 percent) {
    (void)self;
    display_light_set((int32_t)percent);
}

void Z_boardZ_tone(board *self, u32 hz, u32 volume_percent) {
    (void)self;
    tone_sound((int32_t)hz, (int32_t)volume_percent);
}

u32 Z_boardZ_sendBytes(board *self, u32 from, u32 length) {
    (void)self;
    return serial_send(core_bytes(from, length), length);
}

void Z_boardZ_flashRead(board *self, u32 offset, u32 into, u32 length) {
    (void)self;
    storage_read(offset, core_bytes(into, length), length);
}

void Z_boardZ_flashProgram(board *self, u32 offset, u32 from, u32 length) {
    (void)self;
    storage_program(offset, core_bytes(from, length), length);
}

void Z_boardZ_flashErase(board *self, u32 offset) {
    (void)self;
    storage_erase(offset);
}

void Z_boardZ_boardId(board *self, u32 into) {
    (void)self;
    flash_id(core_bytes(into, FLASH_ID_BYTES));
}

u32 Z_boardZ_linkFaults(board *self, u32 which) {
    (void)self;
    return serial_faults(which);
}

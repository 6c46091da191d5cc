#include "events.h"

#include "clock.h"
#include "contacts.h"
#include "core.h"
#include "display.h"
#include "flash.h"
#include "lamp.h"
#include "serial.h"

#define NO_DEADLINE ((uint64_t)INT64_MAX)

/* Alarms compare 32 bits; a deadline further away than this is armed again on the main loop's tick. */
enum { ALARM_REACH_US = 0x40000000 };

static Z_core_instance_t core;
static volatile uint64_t deadline_us = NO_DEADLINE;
static uint64_t last_us;
static bool line_is_speaking;

ALWAYS_INLINE bool deadline_is_due(void) { return clock_now_us() >= deadline_us; }

/* Event times never run backwards, even if an interrupt stamped an edge while an event was being chosen. */
static uint64_t in_order(uint64_t at_us) {
    if (at_us > last_us) last_us = at_us;
    return last_us;
}

void events_start(uint32_t cause, uint32_t detail) {
    Z_core_init_module();
    Z_core_instantiate(&core, 0);
    Z_coreZ_boot(&core, in_order(clock_now_us()), cause, detail);
}

static void arm_deadline(void) {
    if (deadline_us - clock_now_us() < ALARM_REACH_US) TIMER_ALARM(ALARM_DEADLINE) = (uint32_t)deadline_us;
}

/* Only has to wake the main loop, which looks at the clock. */
IN_RAM void events_deadline_interrupt(void) { TIMER_INTR = 1u << ALARM_DEADLINE; }

void events_wake_at(int64_t at_us) {
    deadline_us = at_us < 0 ? 0 : (uint64_t)at_us;
    arm_deadline();
}

bool events_line_is_speaking(void) { return line_is_speaking; }

IN_RAM bool events_are_urgent(void) {
    uint64_t at_us;
    return contacts_waiting() || lamp_has_ended(&at_us) || deadline_is_due() || serial_is_pressing();
}

IN_RAM bool events_are_waiting(void) {
    return events_are_urgent() || serial_waiting() || flash_waiting() || display_waiting();
}

static void deliver_contact(const struct contact_event *event) {
    uint64_t at_us = in_order(event->at_us);
    contacts_drop();
    if (event->contact == CONTACT_PEDAL) Z_coreZ_pedalEdge(&core, event->value != 0, at_us);
    else if (event->contact == CONTACT_KNOB_PUSH) Z_coreZ_knobEdge(&core, event->value != 0, at_us);
    else Z_coreZ_knobTurned(&core, (uint32_t)(int32_t)event->value, at_us);
}

static void deliver_lamp_ended(uint64_t at_us) {
    uint32_t on_us = lamp_take_ended();
    Z_coreZ_lampEnded(&core, on_us, in_order(at_us));
}

static void deliver_deadline(void) {
    uint64_t at_us = in_order(deadline_us);
    deadline_us = NO_DEADLINE;
    Z_coreZ_deadline(&core, at_us);
}

/* The events that bear a time of their own: the oldest of those that are there. */
static bool deliver_timed(void) {
    struct contact_event contact;
    uint64_t contact_us = NO_DEADLINE, ended_us = NO_DEADLINE, due_us = NO_DEADLINE;
    if (contacts_peek(&contact)) contact_us = contact.at_us;
    if (!lamp_has_ended(&ended_us)) ended_us = NO_DEADLINE;
    if (deadline_is_due()) due_us = deadline_us;
    if (contact_us == NO_DEADLINE && ended_us == NO_DEADLINE && due_us == NO_DEADLINE) return false;
    if (ended_us <= contact_us && ended_us <= due_us) deliver_lamp_ended(ended_us);
    else if (contact_us <= due_us) deliver_contact(&contact);
    else deliver_deadline();
    return true;
}

static bool deliver_flash_done(void) {
    bool ok;
    if (!flash_take_done(&ok)) return false;
    Z_coreZ_flashDone(&core, ok, in_order(clock_now_us()));
    return true;
}

static bool deliver_line(void) {
    int32_t byte = serial_take();
    bool has_room = byte < 0 && serial_has_room_again();
    if (byte < 0 && !has_room) return false;
    line_is_speaking = true;
    if (has_room) Z_coreZ_writable(&core, in_order(clock_now_us()));
    else Z_coreZ_received(&core, (uint32_t)byte, in_order(clock_now_us()));
    line_is_speaking = false;
    return true;
}

bool events_deliver_next(void) {
    arm_deadline();
    return deliver_timed() || deliver_flash_done() || deliver_line();
}

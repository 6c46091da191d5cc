#include "events.h"

#include "chip/clock.h"
#include "core.h"
#include "deadline.h"
#include "devices/contacts.h"
#include "devices/lamp.h"
#include "devices/serial.h"
#include "light.h"
#include "storage.h"

static Z_core_instance_t core;
static uint64_t last_us;

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

static void deliver_deadline(uint64_t due_us) {
    deadline_forget();
    Z_coreZ_deadline(&core, in_order(due_us));
}

/* The events that bear a time of their own: the oldest of those that are there. */
static bool deliver_timed(void) {
    struct contact_event contact;
    uint64_t contact_us = NO_DEADLINE, ended_us = NO_DEADLINE, due_us = deadline_due_us();
    if (contacts_peek(&contact)) contact_us = contact.at_us;
    if (!lamp_has_ended(&ended_us)) ended_us = NO_DEADLINE;
    if (contact_us == NO_DEADLINE && ended_us == NO_DEADLINE && due_us == NO_DEADLINE) return false;
    if (ended_us <= contact_us && ended_us <= due_us) deliver_lamp_ended(ended_us);
    else if (contact_us <= due_us) deliver_contact(&contact);
    else deliver_deadline(due_us);
    return true;
}

static bool deliver_flash_done(void) {
    bool ok;
    if (!storage_take_done(&ok)) return false;
    Z_coreZ_flashDone(&core, ok, in_order(clock_now_us()));
    return true;
}

static bool deliver_line(void) {
    int32_t byte = serial_take();
    bool has_room = byte < 0 && serial_has_room_again();
    if (byte < 0 && !has_room) return false;
    light_forbid(true);
    if (has_room) Z_coreZ_writable(&core, in_order(clock_now_us()));
    else Z_coreZ_received(&core, (uint32_t)byte, in_order(clock_now_us()));
    light_forbid(false);
    return true;
}

bool events_deliver_next(void) {
    deadline_arm();
    return deliver_timed() || deliver_flash_done() || deliver_line();
}

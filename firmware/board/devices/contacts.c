#include "contacts.h"

#include "chip/clock.h"
#include "chip/interrupts.h"
#include "chip/pin.h"
#include "chip/sleep.h"

enum {
    QUEUE_LENGTH = 64, /* two contacts of a bad pedal bouncing 15 ms; a power of two */
    KNOB_REST = 3,     /* both phases open */
    DETENT_QUARTERS = 2 /* of four quarter steps, at least this many must have been seen */
};

static struct contact_event queue[QUEUE_LENGTH];
static volatile uint32_t queued;
static volatile uint32_t taken;
static volatile bool overflowed;

/* What was last queued, 1 for down. */
static uint8_t pedal_down;
static uint8_t push_down;
static uint8_t knob_phases;
static int8_t knob_quarters;

/* Quarter steps by old phases (high two bits) and new (low two), clockwise positive; 0 where two phases jumped. */
RAM_CONSTANT static const int8_t quarter_of[16] = {0, -1, 1, 0, 1, 0, 0, -1, -1, 0, 0, 1, 0, 1, -1, 0};

ALWAYS_INLINE uint8_t level(uint32_t pins, uint32_t gpio) { return (pins >> gpio) & 1u; }

ALWAYS_INLINE uint8_t phases(uint32_t pins) {
    return (uint8_t)((level(pins, PIN_KNOB_A) << 1) | level(pins, PIN_KNOB_B));
}

ALWAYS_INLINE bool put(int8_t contact, int8_t value, uint64_t at_us) {
    if (queued - taken == QUEUE_LENGTH) {
        overflowed = true;
        return false;
    }
    queue[queued % QUEUE_LENGTH] = (struct contact_event){at_us, contact, value};
    queued = queued + 1;
    return true;
}

ALWAYS_INLINE void put_level(int8_t contact, uint8_t *last, uint8_t down, uint64_t at_us) {
    if (down != *last && put(contact, (int8_t)down, at_us)) *last = down;
}

/* Counts quarter steps, and gives a detent when the knob comes to rest: bounces cancel, a missed step is forgiven. */
ALWAYS_INLINE void turn(uint8_t now, uint64_t at_us) {
    knob_quarters += quarter_of[(knob_phases << 2) | now];
    knob_phases = now;
    if (now != KNOB_REST) return;
    if (knob_quarters >= DETENT_QUARTERS) put(CONTACT_KNOB_TURN, 1, at_us);
    if (knob_quarters <= -DETENT_QUARTERS) put(CONTACT_KNOB_TURN, -1, at_us);
    knob_quarters = 0;
}

ALWAYS_INLINE void look(uint64_t at_us) {
    uint32_t pins = pin_levels();
    put_level(CONTACT_PEDAL, &pedal_down, !level(pins, PIN_PEDAL), at_us);
    put_level(CONTACT_KNOB_PUSH, &push_down, !level(pins, PIN_KNOB_PUSH), at_us);
    if (phases(pins) != knob_phases) turn(phases(pins), at_us);
    if (queued != taken || overflowed) wake_urgently();
}

IN_RAM void contacts_interrupt(void) {
    uint64_t at_us = clock_now_us();
    pin_acknowledge_edges();
    look(at_us);
}

/* After an overflow, once the main loop has emptied the queue: what differs from the last edge queued is news. */
IN_RAM static void resynchronise(void) {
    interrupts_off();
    overflowed = false;
    look(clock_now_us());
    interrupts_on();
}

IN_RAM bool contacts_peek(struct contact_event *event) {
    if (queued == taken && overflowed) resynchronise();
    if (queued == taken) return false;
    const struct contact_event *oldest = &queue[taken % QUEUE_LENGTH];
    event->at_us = oldest->at_us; /* by parts: a whole structure would be copied by a function in the flash */
    event->contact = oldest->contact;
    event->value = oldest->value;
    return true;
}

IN_RAM void contacts_drop(void) { taken = taken + 1; }

void contacts_start(void) {
    knob_phases = phases(pin_levels());
    pin_acknowledge_edges();
    pin_interrupt_on_edges(PIN_PEDAL);
    pin_interrupt_on_edges(PIN_KNOB_A);
    pin_interrupt_on_edges(PIN_KNOB_B);
    pin_interrupt_on_edges(PIN_KNOB_PUSH);
    look(clock_now_us()); /* a pedal that is down already is news to the core */
}

/* The board's parts brought up in their order, and the main loop. */
#include "chip/alarm.h"
#include "chip/clock.h"
#include "chip/fault.h"
#include "chip/interrupts.h"
#include "chip/sleep.h"
#include "chip/watchdog.h"
#include "deadline.h"
#include "devices/contacts.h"
#include "devices/display.h"
#include "devices/display_light.h"
#include "devices/lamp.h"
#include "devices/serial.h"
#include "devices/tone.h"
#include "devices/uart_line.h"
#include "devices/usb_line.h"
#include "events.h"
#include "storage.h"

enum { TICK_US = 100000 };

/* Nothing outranks the lamp's two alarms. */
static void handle_interrupts(void) {
    interrupts_start();
    interrupts_handle(INTERRUPT_LAMP_OFF, lamp_off_interrupt, 0);
    interrupts_handle(INTERRUPT_LAMP_LIMIT, lamp_limit_interrupt, 0);
    interrupts_handle(INTERRUPT_CONTACTS, contacts_interrupt, 1);
    interrupts_handle(INTERRUPT_UART, uart_line_interrupt, 2);
    interrupts_handle(INTERRUPT_USB, usb_line_interrupt, 3);
    interrupts_handle(INTERRUPT_DEADLINE, deadline_interrupt, 3);
    interrupts_handle(INTERRUPT_TICK, sleep_tick_interrupt, 3);
    interrupts_handle(INTERRUPT_DISPLAY, display_interrupt, 3);
}

static void start_parts(void) {
    watchdog_start();
    handle_interrupts();
    storage_start();
    serial_start();
    tone_start();
    display_light_start();
    display_start();
    contacts_start();
}

static uint64_t earlier(uint64_t one, uint64_t other) { return one < other ? one : other; }

int main(void) {
    struct start_reason reason = fault_take_reason();
    start_parts();
    events_start(reason.cause, reason.detail);
    for (;;) {
        watchdog_feed(WATCHDOG_US);
        wake_forget();
        bool delivered = events_deliver_next();
        uint64_t now_us = clock_now_us();
        uint64_t display_us = display_poll(now_us);
        serial_poll(now_us);
        if (delivered) continue;
        storage_poll();
        sleep_until(earlier(display_us, now_us + TICK_US));
    }
}

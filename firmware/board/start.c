/*
 * From the vector table to the main loop. The stack lies at the very bottom of RAM: one that overflows runs into
 * addresses where nothing is, and that is a fault, not a silently changed variable.
 */
#include "clock.h"
#include "contacts.h"
#include "display.h"
#include "events.h"
#include "fault.h"
#include "flash.h"
#include "lamp.h"
#include "pins_setup.h"
#include "pwm.h"
#include "serial.h"
#include "sleep.h"
#include "watchdog.h"

enum { EXCEPTIONS = 16, EXCEPTION_HARD_FAULT = 3, TICK_US = 100000 };

/* The linker script's marks. */
extern uint32_t image_stack_top, image_data_load, image_data_start, image_data_end, image_bss_start, image_bss_end;

typedef void (*handler)(void);

void reset(void) __attribute__((noreturn, used));

IN_RAM static void hard_fault(void) { fault_reset(FAULT_HARD); }

IN_RAM static void stray(void) { fault_reset(FAULT_STRAY); }

/* In flash only the first two words are ever used: the boot block takes stack and start from them. */
__attribute__((section(".boot_vectors"), used)) static const handler boot_vectors[2] = {
    (handler)&image_stack_top,
    reset,
};

/* The real table is in RAM, where it can be read while the flash is busy. */
static handler vectors[EXCEPTIONS + IRQ_COUNT] __attribute__((aligned(256)));

static void handle(uint32_t irq, handler by, uint32_t priority) {
    vectors[EXCEPTIONS + irq] = by;
    uint32_t shift = 8 * (irq % 4) + 6; /* two bits of each byte, section 2.4.5 */
    NVIC_IPR(irq / 4) = (NVIC_IPR(irq / 4) & ~(3u << shift)) | (priority << shift);
    NVIC_ISER = 1u << irq;
}

/* Nothing outranks the lamp's two alarms; 0 is the highest of four priorities. */
static void interrupts_start(void) {
    for (uint32_t at = 0; at < EXCEPTIONS + IRQ_COUNT; at++) vectors[at] = stray;
    vectors[EXCEPTION_HARD_FAULT] = hard_fault;
    M0PLUS_VTOR = (uint32_t)(uintptr_t)vectors;
    handle(IRQ_TIMER_0 + ALARM_LAMP_OFF, lamp_off_interrupt, 0);
    handle(IRQ_TIMER_0 + ALARM_LAMP_LIMIT, lamp_limit_interrupt, 0);
    handle(IRQ_IO_BANK0, contacts_interrupt, 1);
    handle(IRQ_UART0, serial_interrupt, 2);
    handle(IRQ_TIMER_0 + ALARM_DEADLINE, events_deadline_interrupt, 3);
    handle(IRQ_TIMER_0 + ALARM_TICK, sleep_tick_interrupt, 3);
    handle(IRQ_I2C0, display_interrupt, 3);
    TIMER_INTE = 0xf;
}

static void board_start(void) {
    watchdog_start();
    interrupts_start();
    flash_start();
    serial_start();
    pwm_start();
    display_start();
    contacts_start();
}

static uint64_t earlier(uint64_t one, uint64_t other) { return one < other ? one : other; }

__attribute__((noreturn)) static void main_loop(void) {
    for (;;) {
        watchdog_feed(WATCHDOG_US);
        bool delivered = events_deliver_next();
        uint64_t now_us = clock_now_us();
        uint64_t display_us = display_poll(now_us);
        if (delivered) continue;
        flash_poll();
        sleep_until(earlier(display_us, now_us + TICK_US));
    }
}

static void ram_start(void) {
    const uint32_t *from = &image_data_load;
    for (uint32_t *to = &image_data_start; to < &image_data_end;) *to++ = *from++;
    for (uint32_t *to = &image_bss_start; to < &image_bss_end;) *to++ = 0;
}

/* Relays off, then speed, then memory: the ring oscillator would take 30 ms to clear the core's page. */
void reset(void) {
    pins_start();
    clocks_start();
    ram_start();
    struct start_reason reason = fault_take_reason();
    board_start();
    events_start(reason.cause, reason.detail);
    main_loop();
}

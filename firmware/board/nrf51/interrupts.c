#include "chip/interrupts.h"

#include "chip/alarm.h"
#include "chip/fault.h"
#include "registers.h"
#include "tick.h"
#include "watchdog_tick.h"

/* In the table, from the entry behind the start. */
enum { AT_HARD_FAULT = 1, AT_IRQ = 14 };

static interrupt_handler handlers[INTERRUPT_COUNT];

IN_RAM static void hard_fault(void) { fault_stop(START_CAUSE_TRAP, FAULT_HARD); }

IN_RAM static void stray(void) { fault_stop(START_CAUSE_TRAP, FAULT_STRAY); }

IN_RAM static void uart(void) { handlers[INTERRUPT_UART](); }

ALWAYS_INLINE bool is_due(enum alarm alarm) {
    return TIMER_EVENTS_COMPARE(0, alarm) != 0 && (TIMER_INTENSET(0) & TIMER_INT_COMPARE(alarm)) != 0;
}

/* One interrupt for three alarms, in the order in which they matter; the deadline's handler only wakes. */
IN_RAM static void alarms(void) {
    if (is_due(ALARM_LAMP_OFF)) handlers[INTERRUPT_LAMP_OFF]();
    if (is_due(ALARM_LAMP_LIMIT)) handlers[INTERRUPT_LAMP_LIMIT]();
    if (is_due(ALARM_DEADLINE)) handlers[INTERRUPT_DEADLINE]();
}

IN_RAM static void tick(void) {
    tick_acknowledge();
    watchdog_tick();
    if (handlers[INTERRUPT_CONTACTS]) handlers[INTERRUPT_CONTACTS]();
    if (tick_ends_sleep()) handlers[INTERRUPT_TICK]();
}

/* Behind the stack's end and the start (armv6m/start.c). This processor has its table where the flash begins, for good. */
__attribute__((section(".vectors"), used)) static const interrupt_handler vectors[AT_IRQ + IRQ_COUNT] = {
    stray,
    hard_fault,
    [AT_HARD_FAULT + 1 ... AT_IRQ + IRQ_UART - 1] = stray,
    [AT_IRQ + IRQ_UART] = uart,
    [AT_IRQ + IRQ_UART + 1 ... AT_IRQ + IRQ_TIMER_0 - 1] = stray,
    [AT_IRQ + IRQ_TIMER_0] = alarms,
    [AT_IRQ + IRQ_TIMER_1] = tick,
    [AT_IRQ + IRQ_TIMER_1 + 1 ... AT_IRQ + IRQ_COUNT - 1] = stray,
};

void interrupts_start(void) { tick_start(); }

static const uint8_t irq_of[INTERRUPT_COUNT] = {
    [INTERRUPT_LAMP_OFF] = IRQ_TIMER_0,   [INTERRUPT_LAMP_LIMIT] = IRQ_TIMER_0, [INTERRUPT_DEADLINE] = IRQ_TIMER_0,
    [INTERRUPT_CONTACTS] = IRQ_TIMER_1,   [INTERRUPT_TICK] = IRQ_TIMER_1,       [INTERRUPT_UART] = IRQ_UART,
};

/* Two bits of each byte (ARMv6-M manual, B3.4.7). Handlers that share an interrupt have the highest priority among them. */
static void raise_to(uint32_t irq, uint32_t priority) {
    uint32_t shift = 8 * (irq % 4) + 6;
    uint32_t others = NVIC_IPR(irq / 4) & ~(3u << shift);
    if ((NVIC_ISER & (1u << irq)) != 0 && ((NVIC_IPR(irq / 4) >> shift) & 3u) < priority) return;
    NVIC_IPR(irq / 4) = others | (priority << shift);
}

void interrupts_handle(enum interrupt interrupt, interrupt_handler handler, uint32_t priority) {
    uint32_t irq = irq_of[interrupt];
    handlers[interrupt] = handler;
    if (irq == 0) return; /* USB is not there, and the display's batches end while they are sent */
    raise_to(irq, priority);
    NVIC_ISER = 1u << irq;
}

#include "chip/interrupts.h"

#include "chip/fault.h"
#include "registers.h"
#include "systick.h"

enum { EXCEPTIONS = 16, EXCEPTION_HARD_FAULT = 3, EXCEPTION_SYSTICK = 15 };

static const uint8_t irq_of[INTERRUPT_COUNT] = {
    [INTERRUPT_LAMP_OFF] = IRQ_TIMER_0,
    [INTERRUPT_LAMP_LIMIT] = IRQ_TIMER_1,
    [INTERRUPT_DEADLINE] = IRQ_TIMER_2,
    [INTERRUPT_TICK] = IRQ_TIMER_3,
    [INTERRUPT_CONTACTS] = IRQ_IO_BANK0,
    [INTERRUPT_UART] = IRQ_UART0,
    [INTERRUPT_USB] = IRQ_USBCTRL,
    [INTERRUPT_DISPLAY] = IRQ_I2C0,
};

/* The table that counts is in RAM, where it can be read while the flash is busy. */
static interrupt_handler vectors[EXCEPTIONS + IRQ_COUNT] __attribute__((aligned(256)));

IN_RAM static void hard_fault(void) { fault_stop(START_CAUSE_TRAP, FAULT_HARD); }

IN_RAM static void stray(void) { fault_stop(START_CAUSE_TRAP, FAULT_STRAY); }

void interrupts_start(void) {
    for (uint32_t at = 0; at < EXCEPTIONS + IRQ_COUNT; at++) vectors[at] = stray;
    vectors[EXCEPTION_HARD_FAULT] = hard_fault;
    M0PLUS_VTOR = (uint32_t)(uintptr_t)vectors;
    TIMER_INTE = 0xf;
}

void interrupts_handle(enum interrupt interrupt, interrupt_handler handler, uint32_t priority) {
    uint32_t irq = irq_of[interrupt];
    vectors[EXCEPTIONS + irq] = handler;
    uint32_t shift = 8 * (irq % 4) + 6; /* two bits of each byte, section 2.4.5 */
    NVIC_IPR(irq / 4) = (NVIC_IPR(irq / 4) & ~(3u << shift)) | (priority << shift);
    NVIC_ISER = 1u << irq;
}

/* SysTick's priority is in the two highest bits, as low as any (section 2.4.5). */
void systick_handle(interrupt_handler handler) {
    vectors[EXCEPTION_SYSTICK] = handler;
    M0PLUS_SHPR3 = 3u << 30;
}

/*
 * The nRF51's registers that this board layer touches, by the names of its reference manual (nRF51 Series Reference
 * Manual 3.0). Addresses of POWER, CLOCK, WDT and TWI were compared with the maker's nrf51.h; the others run on QEMU's models.
 * What they mean is from memory. A task is started and an event is forgotten by writing; an event stays until then.
 */
#ifndef TREADLE_REGISTERS_H
#define TREADLE_REGISTERS_H

#include <stdint.h>

#define REGISTER(address) (*(volatile uint32_t *)(address))

#define CLOCK_TASKS_HFCLKSTART REGISTER(0x40000000u)
#define CLOCK_EVENTS_HFCLKSTARTED REGISTER(0x40000100u)
#define CLOCK_TASKS_LFCLKSTART REGISTER(0x40000008u)
#define CLOCK_LFCLKSRC REGISTER(0x40000518u)
#define POWER_RESETREAS REGISTER(0x40000400u)

#define UART_TASKS_STARTRX REGISTER(0x40002000u)
#define UART_TASKS_STARTTX REGISTER(0x40002008u)
#define UART_EVENTS_RXDRDY REGISTER(0x40002108u)
#define UART_EVENTS_TXDRDY REGISTER(0x4000211cu)
#define UART_INTENSET REGISTER(0x40002304u)
#define UART_INTENCLR REGISTER(0x40002308u)
#define UART_ERRORSRC REGISTER(0x40002480u)
#define UART_ENABLE REGISTER(0x40002500u)
#define UART_PSELTXD REGISTER(0x4000250cu)
#define UART_PSELRXD REGISTER(0x40002514u)
#define UART_RXD REGISTER(0x40002518u)
#define UART_TXD REGISTER(0x4000251cu)
#define UART_BAUDRATE REGISTER(0x40002524u)

#define TWI_TASKS_STARTTX REGISTER(0x40003008u)
#define TWI_TASKS_STOP REGISTER(0x40003014u)
#define TWI_EVENTS_STOPPED REGISTER(0x40003104u)
#define TWI_EVENTS_TXDSENT REGISTER(0x4000311cu)
#define TWI_EVENTS_ERROR REGISTER(0x40003124u)
#define TWI_ERRORSRC REGISTER(0x400034c4u)
#define TWI_ENABLE REGISTER(0x40003500u)
#define TWI_PSELSCL REGISTER(0x40003508u)
#define TWI_PSELSDA REGISTER(0x4000350cu)
#define TWI_TXD REGISTER(0x4000351cu)
#define TWI_FREQUENCY REGISTER(0x40003524u)
#define TWI_ADDRESS REGISTER(0x40003588u)

/* Timer 0 has 32 bits, timer 1 has 16. */
#define TIMER_BASE(timer) (0x40008000u + 0x1000u * (timer))
#define TIMER_TASKS_START(timer) REGISTER(TIMER_BASE(timer))
#define TIMER_TASKS_CAPTURE(timer, at) REGISTER(TIMER_BASE(timer) + 0x040u + 4u * (at))
#define TIMER_EVENTS_COMPARE(timer, at) REGISTER(TIMER_BASE(timer) + 0x140u + 4u * (at))
#define TIMER_SHORTS(timer) REGISTER(TIMER_BASE(timer) + 0x200u)
#define TIMER_INTENSET(timer) REGISTER(TIMER_BASE(timer) + 0x304u)
#define TIMER_INTENCLR(timer) REGISTER(TIMER_BASE(timer) + 0x308u)
#define TIMER_BITMODE(timer) REGISTER(TIMER_BASE(timer) + 0x508u)
#define TIMER_PRESCALER(timer) REGISTER(TIMER_BASE(timer) + 0x510u)
#define TIMER_CC(timer, at) REGISTER(TIMER_BASE(timer) + 0x540u + 4u * (at))
#define TIMER_INT_COMPARE(at) (1u << (16 + (at)))

#define WDT_TASKS_START REGISTER(0x40010000u)
#define WDT_CRV REGISTER(0x40010504u)
#define WDT_RREN REGISTER(0x40010508u)
#define WDT_CONFIG REGISTER(0x4001050cu)
#define WDT_RR(at) REGISTER(0x40010600u + 4u * (at))

#define NVMC_READY REGISTER(0x4001e400u)
#define NVMC_CONFIG REGISTER(0x4001e504u)
#define NVMC_ERASEPAGE REGISTER(0x4001e508u)

#define FICR_DEVICEID(word) REGISTER(0x10000060u + 4u * (word))

#define GPIO_OUTSET REGISTER(0x50000508u)
#define GPIO_OUTCLR REGISTER(0x5000050cu)
#define GPIO_IN REGISTER(0x50000510u)
#define GPIO_PIN_CNF(pin) REGISTER(0x50000700u + 4u * (pin))

/* The processor's own; ARMv6-M manual, B3.4 and B3.2.6. */
#define NVIC_ISER REGISTER(0xe000e100u)
#define NVIC_ICER REGISTER(0xe000e180u)
#define NVIC_IPR(word) REGISTER(0xe000e400u + 4u * (word))
#define SCB_AIRCR REGISTER(0xe000ed0cu)
#define SCB_AIRCR_RESET 0x05fa0004u

/* An interrupt has the number of its peripheral. */
enum { IRQ_UART = 2, IRQ_TIMER_0 = 8, IRQ_TIMER_1 = 9, IRQ_COUNT = 32 };

#endif

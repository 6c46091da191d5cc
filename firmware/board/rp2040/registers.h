/*
 * The RP2040's registers that this board layer touches, by the datasheet's names. Addresses, strides, bits and
 * interrupt numbers were compared, one by one, with the vendor's headers: pico-sdk 2.2.0, src/rp2040/hardware_regs/
 * include/hardware/regs/, of which each block names its own. Section numbers are the RP2040 datasheet's, from memory.
 * Every peripheral on the APB has three aliases for atomic changes of single bits (section 2.1.2; addressmap.h).
 */
#ifndef TREADLE_REGISTERS_H
#define TREADLE_REGISTERS_H

#include <stddef.h>
#include <stdint.h>

#define REGISTER(address) (*(volatile uint32_t *)(address))
#define SET_ALIAS(reg) (*(volatile uint32_t *)((uintptr_t)&(reg) + 0x2000u))
#define CLEAR_ALIAS(reg) (*(volatile uint32_t *)((uintptr_t)&(reg) + 0x3000u))

/* Flash as memory, section 2.6.3 (addressmap.h): cached, and past the cache. */
#define XIP_BASE 0x10000000u
#define XIP_NOCACHE_NOALLOC_BASE 0x13000000u

/*
 * Flash as a serial device, section 4.10.13 (ssi.h). A structure, so that the compiler keeps its address in a register:
 * the boot block has 252 bytes for everything.
 */
struct ssi_registers {
    uint32_t ctrlr0, ctrlr1, ssienr, mwcr, ser, baudr, txftlr, rxftlr, txflr, rxflr, sr, reserved_1[13], dr0;
    uint32_t reserved_2[35], rx_sample_dly, spi_ctrlr0;
};
_Static_assert(offsetof(struct ssi_registers, dr0) == 0x60, "section 4.10.13");
_Static_assert(offsetof(struct ssi_registers, rx_sample_dly) == 0xf0, "section 4.10.13");
#define SSI ((volatile struct ssi_registers *)0x18000000u)
#define SSI_SR_RFNE (1u << 3)
#define SSI_SR_TFE (1u << 2)
#define SSI_SR_BUSY (1u << 0)

/* Clocks, section 2.15.7 (clocks.h); crystal, 2.16.7 (xosc.h); PLL, 2.18.4 (pll.h). */
#define CLOCKS_CLK_REF_CTRL REGISTER(0x40008030u)
#define CLOCKS_CLK_REF_SELECTED REGISTER(0x40008038u)
#define CLOCKS_CLK_SYS_CTRL REGISTER(0x4000803cu)
#define CLOCKS_CLK_SYS_SELECTED REGISTER(0x40008044u)
#define CLOCKS_CLK_PERI_CTRL REGISTER(0x40008048u)
#define XOSC_CTRL REGISTER(0x40024000u)
#define XOSC_STATUS REGISTER(0x40024004u)
#define XOSC_STARTUP REGISTER(0x4002400cu)
#define PLL_SYS_CS REGISTER(0x40028000u)
#define PLL_SYS_PWR REGISTER(0x40028004u)
#define PLL_SYS_FBDIV_INT REGISTER(0x40028008u)
#define PLL_SYS_PRIM REGISTER(0x4002800cu)
#define CLOCKS_CLK_USB_CTRL REGISTER(0x40008054u)
#define PLL_USB_CS REGISTER(0x4002c000u)
#define PLL_USB_PWR REGISTER(0x4002c004u)
#define PLL_USB_FBDIV_INT REGISTER(0x4002c008u)
#define PLL_USB_PRIM REGISTER(0x4002c00cu)

/* Resets of the peripherals, section 2.14.3 (resets.h). */
#define RESETS_RESET REGISTER(0x4000c000u)
#define RESETS_RESET_DONE REGISTER(0x4000c008u)
#define RESETS_I2C0 (1u << 3)
#define RESETS_IO_BANK0 (1u << 5)
#define RESETS_PADS_BANK0 (1u << 8)
#define RESETS_PLL_SYS (1u << 12)
#define RESETS_PLL_USB (1u << 13)
#define RESETS_PWM (1u << 14)
#define RESETS_TIMER (1u << 21)
#define RESETS_UART0 (1u << 22)
#define RESETS_USBCTRL (1u << 24)

/* What a watchdog reset takes with it, section 2.13.5 (psm.h). */
#define PSM_WDSEL REGISTER(0x40010008u)

/* Pins: section 2.19.6.1 (io_bank0.h); pads, 2.19.6.3 (pads_bank0.h); the flash's, 2.19.6.2 (io_qspi.h, pads_qspi.h). */
#define IO_BANK0_CTRL(gpio) REGISTER(0x40014004u + 8u * (gpio))
#define IO_BANK0_INTR(word) REGISTER(0x400140f0u + 4u * (word))
#define IO_BANK0_PROC0_INTE(word) REGISTER(0x40014100u + 4u * (word))
#define IO_QSPI_GPIO_QSPI_SS_CTRL REGISTER(0x4001800cu)
#define PADS_BANK0_GPIO(gpio) REGISTER(0x4001c004u + 4u * (gpio))
#define PADS_QSPI_GPIO_QSPI_SCLK REGISTER(0x40020004u)

/* The pins' levels, single-cycle, section 2.3.1.7 (sio.h). */
#define SIO_GPIO_IN REGISTER(0xd0000004u)
#define SIO_GPIO_OUT_SET REGISTER(0xd0000014u)
#define SIO_GPIO_OUT_CLR REGISTER(0xd0000018u)
#define SIO_GPIO_OE_SET REGISTER(0xd0000024u)
#define SIO_GPIO_OE_CLR REGISTER(0xd0000028u)

/* Serial line, section 4.2.8 (uart.h; an ARM PL011). */
#define UART0_UARTDR REGISTER(0x40034000u)
#define UART0_UARTFR REGISTER(0x40034018u)
#define UART0_UARTIBRD REGISTER(0x40034024u)
#define UART0_UARTFBRD REGISTER(0x40034028u)
#define UART0_UARTLCR_H REGISTER(0x4003402cu)
#define UART0_UARTCR REGISTER(0x40034030u)
#define UART0_UARTIFLS REGISTER(0x40034034u)
#define UART0_UARTIMSC REGISTER(0x40034038u)
#define UART0_UARTICR REGISTER(0x40034044u)

/* USB: the memory that controller and processor share, section 4.1.2.5 (usb_dpram.h); registers, 4.1.4 (usb.h). */
#define USB_DPRAM_BYTE(at) (*(volatile uint8_t *)(0x50100000u + (at)))
#define USB_DPRAM_WORD(at) REGISTER(0x50100000u + (at))
#define USB_ENDPOINT_CONTROL(number) REGISTER(0x50100000u + 4u * (number))
#define USB_BUFFER_CONTROL(number) REGISTER(0x50100080u + 4u * (number))
#define USB_ADDR_ENDP REGISTER(0x50110000u)
#define USB_MAIN_CTRL REGISTER(0x50110040u)
#define USB_SOF_RD REGISTER(0x50110048u)
#define USB_SIE_CTRL REGISTER(0x5011004cu)
#define USB_SIE_STATUS REGISTER(0x50110050u)
#define USB_BUFF_STATUS REGISTER(0x50110058u)
#define USB_EP_STALL_ARM REGISTER(0x50110068u)
#define USB_MUXING REGISTER(0x50110074u)
#define USB_PWR REGISTER(0x50110078u)
#define USB_PHY_DIRECT REGISTER(0x5011007cu)
#define USB_PHY_DIRECT_OVERRIDE REGISTER(0x50110080u)
#define USB_INTE REGISTER(0x50110090u)
#define USB_INTS REGISTER(0x50110098u)

/* I2C, section 4.3.17 (i2c.h; a DesignWare block). */
#define I2C0_IC_CON REGISTER(0x40044000u)
#define I2C0_IC_TAR REGISTER(0x40044004u)
#define I2C0_IC_DATA_CMD REGISTER(0x40044010u)
#define I2C0_IC_FS_SCL_HCNT REGISTER(0x4004401cu)
#define I2C0_IC_FS_SCL_LCNT REGISTER(0x40044020u)
#define I2C0_IC_INTR_MASK REGISTER(0x40044030u)
#define I2C0_IC_RAW_INTR_STAT REGISTER(0x40044034u)
#define I2C0_IC_CLR_INTR REGISTER(0x40044040u)
#define I2C0_IC_CLR_TX_ABRT REGISTER(0x40044054u)
#define I2C0_IC_ENABLE REGISTER(0x4004406cu)
#define I2C0_IC_SDA_HOLD REGISTER(0x4004407cu)
#define I2C0_IC_FS_SPKLEN REGISTER(0x400440a0u)
#define I2C_INTR_TX_ABRT (1u << 6)
#define I2C_INTR_STOP_DET (1u << 9)

/* PWM, section 4.5.3 (pwm.h). */
#define PWM_CSR(slice) REGISTER(0x40050000u + 20u * (slice))
#define PWM_DIV(slice) REGISTER(0x40050004u + 20u * (slice))
#define PWM_CC(slice) REGISTER(0x4005000cu + 20u * (slice))
#define PWM_TOP(slice) REGISTER(0x40050010u + 20u * (slice))

/* Microsecond timer and its four alarms, section 4.6.5 (timer.h). */
#define TIMER_ALARM(alarm) REGISTER(0x40054010u + 4u * (alarm))
#define TIMER_ARMED REGISTER(0x40054020u)
#define TIMER_TIMERAWH REGISTER(0x40054024u)
#define TIMER_TIMERAWL REGISTER(0x40054028u)
#define TIMER_INTR REGISTER(0x40054034u)
#define TIMER_INTE REGISTER(0x40054038u)

/* Watchdog, section 4.7.6 (watchdog.h). */
#define WATCHDOG_CTRL REGISTER(0x40058000u)
#define WATCHDOG_CTRL_TRIGGER (1u << 31)
#define WATCHDOG_CTRL_ENABLE (1u << 30)
#define WATCHDOG_CTRL_PAUSE (7u << 24)
#define WATCHDOG_LOAD REGISTER(0x40058004u)
#define WATCHDOG_REASON REGISTER(0x40058008u)
#define WATCHDOG_SCRATCH(word) REGISTER(0x4005800cu + 4u * (word))
#define WATCHDOG_TICK REGISTER(0x4005802cu)

/* Which chip this is, section 2.20.2 (sysinfo.h): its revision in the upper four bits; 1 is B0 and B1, 2 is B2. */
#define SYSINFO_CHIP_REVISION (REGISTER(0x40000000u) >> 28)

/* Why the chip was reset, section 2.12.8 (vreg_and_chip_reset.h). */
#define VREG_CHIP_RESET REGISTER(0x40064008u)
#define CHIP_RESET_HAD_RUN (1u << 16)

/* The processor's own, section 2.4.8 (m0plus.h). */
#define NVIC_ISER REGISTER(0xe000e100u)
#define NVIC_ICER REGISTER(0xe000e180u)
#define NVIC_IPR(word) REGISTER(0xe000e400u + 4u * (word))
#define M0PLUS_SYST_CSR REGISTER(0xe000e010u)
#define M0PLUS_SYST_RVR REGISTER(0xe000e014u)
#define M0PLUS_SYST_CVR REGISTER(0xe000e018u)
#define M0PLUS_ICSR REGISTER(0xe000ed04u)
#define M0PLUS_VTOR REGISTER(0xe000ed08u)
#define M0PLUS_SHPR3 REGISTER(0xe000ed20u)

/* Interrupt numbers, section 2.3.2 (intctrl.h, whose last is 25). */
enum { IRQ_TIMER_0 = 0, IRQ_TIMER_1, IRQ_TIMER_2, IRQ_TIMER_3, IRQ_USBCTRL = 5, IRQ_IO_BANK0 = 13, IRQ_UART0 = 20, IRQ_I2C0 = 23 };
enum { IRQ_COUNT = 26 };

/* Pin functions, section 2.19.2 (FUNCSEL in io_bank0.h). */
enum { PIN_FUNCTION_UART = 2, PIN_FUNCTION_I2C = 3, PIN_FUNCTION_PWM = 4, PIN_FUNCTION_SIO = 5, PIN_FUNCTION_USB = 8, PIN_FUNCTION_NONE = 31 };

#endif

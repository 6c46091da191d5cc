/* Crystal, PLL and the microsecond tick. */
#ifndef TREADLE_RP2040_CLOCKS_H
#define TREADLE_RP2040_CLOCKS_H

/* The system clock after clocks_start(); UART, I2C and PWM are derived from it. */
#define SYSTEM_HZ 125000000u

/* Starts the clocks; the peripherals that the board uses leave their resets. */
void clocks_start(void);

#endif

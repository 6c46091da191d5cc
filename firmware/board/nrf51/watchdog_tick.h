#ifndef TREADLE_NRF51_WATCHDOG_TICK_H
#define TREADLE_NRF51_WATCHDOG_TICK_H

/* Once a millisecond, in an interrupt: the chip's watchdog goes on waiting for as long as was last granted. */
void watchdog_tick(void);

#endif

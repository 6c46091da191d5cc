/* The crystal and the microseconds. */
#ifndef TREADLE_NRF51_CLOCKS_H
#define TREADLE_NRF51_CLOCKS_H

void clocks_start(void);

#endif

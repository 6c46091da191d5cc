/* The display's two pins: to the I2C block, or to software for freeing a stuck bus. */
#ifndef TREADLE_RP2040_DISPLAY_BUS_H
#define TREADLE_RP2040_DISPLAY_BUS_H

#include <stdint.h>

void pins_display_bus(uint32_t function);

#endif

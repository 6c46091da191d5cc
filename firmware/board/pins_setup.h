/* Gives every pin of pins.h its function and its pull; relays are off before anything else runs. */
#ifndef TREADLE_PINS_SETUP_H
#define TREADLE_PINS_SETUP_H

#include <stdint.h>

void pins_start(void);

/* The display's two pins: to the I2C block, or to software for freeing a stuck bus. */
void pins_display_bus(uint32_t function);

#endif

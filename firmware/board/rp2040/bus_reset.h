/*
 * How the USB controller comes out of a reset of the bus (erratum RP2040-E5). Chips that need no help get none.
 */
#ifndef TREADLE_RP2040_BUS_RESET_H
#define TREADLE_RP2040_BUS_RESET_H

enum { MUXING_TO_BUS = (1 << 0) | (1 << 3) }; /* TO_PHY and SOFTCON, section 4.1.4 */

void bus_reset_start(void);

/* The laptop resets the bus. */
void bus_reset_attend(void);

/* Whatever is under way is off; before the controller is reset. */
void bus_reset_leave(void);

void bus_reset_tick(void);

#endif

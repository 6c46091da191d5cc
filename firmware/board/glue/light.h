/* Only hands and clocks light the lamp; the core promises it, and this keeps it. */
#ifndef TREADLE_LIGHT_H
#define TREADLE_LIGHT_H

#include <stdbool.h>
#include <stdint.h>

/* Whether the core is handling something that came over the serial line: light asked for now stops the board. */
void light_forbid(bool line_is_speaking);

/* Whether the line is speaking. */
bool light_is_forbidden(void);

/* Lights the lamp for `on_us`. */
void light_for(uint32_t on_us);

#endif

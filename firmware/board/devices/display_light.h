/* The display's light. */
#ifndef TREADLE_DISPLAY_LIGHT_H
#define TREADLE_DISPLAY_LIGHT_H

#include <stdint.h>

void display_light_start(void);

/* 0 (dark) to 100 per cent. */
void display_light_set(int32_t light_percent);

#endif

/* The piezo. */
#ifndef TREADLE_TONE_H
#define TREADLE_TONE_H

#include <stdint.h>

void tone_start(void);

/* Sounds `hz` at 0 to 100 per cent until told otherwise; below 30 Hz or at 0 per cent: silence. */
void tone_sound(int32_t hz, int32_t volume_percent);

#endif

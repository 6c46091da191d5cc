/* The safelight's relay. Its contact is normally closed: released, it is lit. */
#ifndef TREADLE_SAFELIGHT_H
#define TREADLE_SAFELIGHT_H

#include <stdbool.h>

void safelight_set(bool is_lit);

#endif

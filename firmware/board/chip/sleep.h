/*
 * Sleeping, and what ends it. An interrupt that leaves something for the main loop calls `wake`; one whose news a
 * flash operation must make way for (the pedal, the lamp's end, a deadline) calls `wake_urgently`. So whoever
 * sleeps or waits needs to know nobody who might have news.
 */
#ifndef TREADLE_CHIP_SLEEP_H
#define TREADLE_CHIP_SLEEP_H

#include <stdbool.h>
#include <stdint.h>

#include "memory.h"

/* Set from interrupts, cleared by the main loop only. */
struct wake_news {
    volatile bool is_there;
    volatile bool is_urgent;
};
extern struct wake_news wake_news;

ALWAYS_INLINE void wake(void) { wake_news.is_there = true; }

ALWAYS_INLINE void wake_urgently(void) {
    wake_news.is_there = true;
    wake_news.is_urgent = true;
}

/* Whether something came up, since the main loop last looked, that cannot wait for a flash operation. */
ALWAYS_INLINE bool wake_is_urgent(void) { return wake_news.is_urgent; }

/* The main loop is about to look at everything: what comes up from now on is news. */
ALWAYS_INLINE void wake_forget(void) {
    wake_news.is_there = false;
    wake_news.is_urgent = false;
}

/* Sleeps until somebody wakes, or until `until_us`; not at all if somebody has since `wake_forget`. */
void sleep_until(uint64_t until_us);

/* Sleeps for `us` or until any interrupt. */
void sleep_for_us(uint32_t us);

void sleep_tick_interrupt(void);

#endif

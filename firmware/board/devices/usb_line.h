/*
 * The line over USB: the device's data, a ring for each direction. Nothing is ever lost in it: what finds no room
 * stays with the laptop. The board says nothing before it was spoken to, because a laptop's port may echo.
 */
#ifndef TREADLE_USB_LINE_H
#define TREADLE_USB_LINE_H

#include <stdbool.h>
#include <stdint.h>

void usb_line_start(void);

/* Whether a laptop has set the device up, is awake, and has not closed the port. */
bool usb_line_is_open(void);

/* Bytes that could be queued now. */
uint32_t usb_line_room(void);

/* Queues all of `bytes`, for which there must be room. */
void usb_line_send(const uint8_t *bytes, uint32_t length);

/* Forgets what is queued. */
void usb_line_drop_unsent(void);

bool usb_line_has_received(void);

/* The oldest byte received, or -1. */
int32_t usb_line_take(void);

/* A controller that hears no frames though the bus is awake hangs (erratum E15): it is started anew. */
void usb_line_poll(uint64_t now_us);

void usb_line_interrupt(void);

#endif

/* The names that the line over USB calls, for a chip that has none: it is never attached, so nothing ever comes or goes. */
#include "chip/usb.h"

void usb_attach(void) {}
IN_RAM void usb_detach(void) {}
IN_RAM uint32_t usb_take_news(void) { return 0; }
IN_RAM void usb_begin_anew(void) {}
IN_RAM void usb_take_setup(uint8_t *into) { (void)into; }
IN_RAM void usb_refuse_control(void) {}
IN_RAM void usb_set_address(uint32_t address) { (void)address; }
IN_RAM void usb_open_pipes(bool open) { (void)open; }
IN_RAM void usb_halt(enum usb_pipe pipe, bool halts) { (void)pipe, (void)halts; }
IN_RAM bool usb_is_halted(enum usb_pipe pipe) { return (void)pipe, false; }
IN_RAM void usb_give(enum usb_pipe pipe, const uint8_t *bytes, uint32_t length) { (void)pipe, (void)bytes, (void)length; }
IN_RAM void usb_take_back(enum usb_pipe pipe) { (void)pipe; }
IN_RAM void usb_await(enum usb_pipe pipe) { (void)pipe; }
IN_RAM bool usb_take_done(enum usb_pipe pipe) { return (void)pipe, false; }
IN_RAM uint32_t usb_received(enum usb_pipe pipe, uint8_t *into) { return (void)pipe, (void)into, 0u; }
IN_RAM uint32_t usb_frame(void) { return 0; }

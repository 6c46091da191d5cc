/*
 * What is wired to which GPIO. hardware-notes/pins.md is generated from this file: one `#define PIN_X n` a line,
 * its meaning in the comment on the same line. Functions by pin: RP2040 datasheet section 2.19.2.
 *
 * A relay is released while its pin is low or floats (reset, flashing, no firmware): lamp off, safelight lit.
 */
#ifndef TREADLE_PINS_H
#define TREADLE_PINS_H

#define PIN_UART0_TX 0        /* out: serial to the laptop, to the adapter's RX, 3.3 V */
#define PIN_UART0_RX 1        /* in: serial from the laptop, from the adapter's TX, 3.3 V; external pull-up */
#define PIN_LAMP_RELAY 2      /* out: high = lamp on; external pull-down */
#define PIN_SAFELIGHT_RELAY 3 /* out: high = safelight off, it hangs on the normally closed contact; external pull-down */
#define PIN_DISPLAY_SDA 4     /* both ways, open drain: I2C0 data to the display, external pull-up */
#define PIN_DISPLAY_SCL 5     /* out, open drain: I2C0 clock to the display, external pull-up */
#define PIN_PEDAL 6           /* in: low = pedal down, the contact closes to ground; external pull-up */
#define PIN_KNOB_A 7          /* in: knob contact A, closes to ground; internal pull-up */
#define PIN_KNOB_B 8          /* in: knob contact B, closes to ground; internal pull-up */
#define PIN_KNOB_PUSH 9       /* in: low = knob pushed, closes to ground; internal pull-up */
#define PIN_TONE 10           /* out: PWM slice 5 channel A to the piezo, 1 kilohm in series */
#define PIN_DISPLAY_LIGHT 12  /* out: PWM slice 6 channel A, to the transistor of the display's light; external pull-down */

/*
 * Only on boards where VBUS of the USB socket can be read at a pin (many have it at GPIO 24), and left out otherwise: a line
 * `#define PIN_VBUS 24` with its meaning here, or `npm run image -- --vbus-pin 24`. The board then holds D+ up only while a
 * laptop gives VBUS (USB 2.0, section 7.1.5).
 */

#endif

/* What is wired to which pin. */
#ifndef TREADLE_PINS_H
#define TREADLE_PINS_H

#define PIN_LAMP_RELAY 2      /* out: high = lamp on; external pull-down */
#define PIN_SAFELIGHT_RELAY 3 /* out: high = safelight off, it hangs on the normally closed contact; external pull-down */
#define PIN_DISPLAY_SDA 4     /* both ways, open drain: data to the display, external pull-up */
#define PIN_DISPLAY_SCL 5     /* out, open drain: clock to the display, external pull-up */
#define PIN_PEDAL 6           /* in: low = pedal down, the contact closes to ground; external pull-up */
#define PIN_KNOB_A 7          /* in: knob contact A, closes to ground; internal pull-up */
#define PIN_KNOB_B 8          /* in: knob contact B, closes to ground; internal pull-up */
#define PIN_KNOB_PUSH 9       /* in: low = knob pushed, closes to ground; internal pull-up */
#define PIN_TONE 10           /* out: to the piezo, 1 kilohm in series */
#define PIN_DISPLAY_LIGHT 12  /* out: to the transistor of the display's light; external pull-down */
#define PIN_UART_TX 24        /* out: serial to the laptop, 3.3 V */
#define PIN_UART_RX 25        /* in: serial from the laptop, 3.3 V; external pull-up */

#endif

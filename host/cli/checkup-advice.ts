import type { MessageOf } from '../../shared-protocol/index.js';

export type Checked = MessageOf<'checked'>;
export type Step = Checked['step'];

/** The chip's GPIO numbers; a test holds them to the header that the firmware is compiled with. */
export const pins = {
  lampRelay: 2,
  safelightRelay: 3,
  displaySda: 4,
  displayScl: 5,
  pedal: 6,
  knobA: 7,
  knobB: 8,
  knobPush: 9,
  tone: 10,
  displayLight: 12,
} as const;

/** The clicks each way by which the board knows the knob's wires, as it does itself. */
const KNOB_CLICKS = 3;

/** In the order in which the board goes through them. */
export const steps: Readonly<Record<Step, { readonly title: string; readonly todo: string }>> = {
  pedal: {
    title: 'pedal',
    todo: 'Press the pedal and let go: the display shows its bounces and its time. Press again to go on. If nothing comes of it, push the knob.',
  },
  knob: {
    title: 'knob',
    todo: 'Turn three clicks to the right, three to the left, then push. If one of them does nothing, tap the pedal.',
  },
  display: {
    title: 'display',
    todo: 'All dots of three rows, then words; the light goes down to dark in three seconds and comes back. Tap if it is so, push the knob if not.',
  },
  tone: {
    title: 'tone',
    todo: 'A short and a long tone each second. Tap if you hear it, push the knob if not.',
  },
  flash: { title: 'flash', todo: 'A sector was written and read back. Tap to go on.' },
  unplugged: {
    title: 'mains box',
    todo: 'Pull the plug of the mains box, and take all paper away from under the enlarger. Tap only when both are so; push the knob to leave it.',
  },
  safelight: {
    title: 'safelight relay',
    todo: "The safelight's relay clicks each second. Tap if you hear it, push the knob if not.",
  },
  lamp: {
    title: 'lamp relay and supply',
    todo: "Tap: the lamp's relay pulls in a hundred times in half a minute, and the display must stay. Then tap if it clicked all along, push the knob if not.",
  },
};
export const stepNames = Object.keys(steps) as Step[];

/** What was seen in figures; empty where the step has none. */
export function figuresOf({ step, first, second }: Checked): string {
  switch (step) {
    case 'pedal':
      return second === 0 ? '' : `closed for ${second} ms, ${first} bounces`;
    case 'knob':
      return `${first} clicks right, ${second} left`;
    case 'flash':
      return `${first} of ${second} sectors of the shelf bad`;
    default:
      return '';
  }
}

/** What to look at where a step was not fine. */
export function adviceFor({ step, first, second }: Checked): string {
  switch (step) {
    case 'pedal':
      return `The pedal's contact closes GPIO ${pins.pedal} to GND. With the meter: 3.3 V on it let go, next to nothing pressed. Stays at 3.3 V: the plug, the cable, the switch; never 3.3 V: a short, or the contact is one that opens.`;
    case 'knob':
      return knobAdvice(first, second);
    case 'display':
      return `Nothing at all: the contrast trimmer, then SDA (GPIO ${pins.displaySda}) and SCL (GPIO ${pins.displayScl}) for a swap, and the expander's address, 0x27. Light that stays: the gate of Q3 at GPIO ${pins.displayLight}, and the transistor on P3 that must be out.`;
    case 'tone':
      return `GPIO ${pins.tone} goes through 1 kΩ to the piezo, its other side to GND. Also: 'treadle settings' must not have tone-volume at 0.`;
    case 'flash':
      return first === 0
        ? 'The board could not write what it was to keep: remove recipes, and check up again; if it stays so, the flash is at its end.'
        : 'The board goes round bad sectors, and forgets at power-off which they were. More of them each time: the flash is at its end; collect the log, and change the board.';
    case 'unplugged':
      return 'The relays were not tried.';
    case 'safelight':
      return `GPIO ${pins.safelightRelay} through 1 kΩ to its gate, on to the safelight's wire of the link: is the link in? Coil to the link's GND: 55 Ω or more.`;
    case 'lamp':
      return `GPIO ${pins.lampRelay} through 1 kΩ to the gate of Q1, which drives Q2, on to the lamp's wire of the link: is the link in? Lamp wire to its GND while it clicks: 4.5 V or more.`;
  }
}

function knobAdvice(right: number, left: number): string {
  if (left >= KNOB_CLICKS && right < KNOB_CLICKS)
    return `It counts left for right: swap A (GPIO ${pins.knobA}) and B (GPIO ${pins.knobB}).`;
  if (right >= KNOB_CLICKS && left >= KNOB_CLICKS)
    return `It turns, and a push does nothing: the push contact closes GPIO ${pins.knobPush} to GND.`;
  return `Turning is not counted both ways: A closes GPIO ${pins.knobA}, B GPIO ${pins.knobB} to GND, and the common pin goes to GND.`;
}

export const stuckAdvice = `The board has the pedal as down. Take the foot off; with its plug out GPIO ${pins.pedal} must show 3.3 V. If it does not, the short is on the board; if it does, in the cable or the switch, or the switch is one that opens.`;

/** Why the board started in the middle, by the cause that it logged. */
export function restartAdvice(cause: string): string {
  return cause === 'power'
    ? "It started anew as after power-on: the chip tells a dip of its 3.3 V in no other way. C1 and its polarity, the supply and its cable, the relays' own supply current."
    : `It started anew by itself (${cause}): 'treadle collect' keeps the log that says so; wires of relays and mains away from the board's, the snubber, and the reset pin's wire.`;
}

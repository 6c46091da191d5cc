import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../../shared-protocol/project.js';

/** The pins by name, from the header that the firmware is compiled with. */
function readPins(): Map<string, number> {
  const header = readFileSync(join(projectRoot, 'firmware/board/rp2040/port/pins.h'), 'utf8');
  return new Map(
    [...header.matchAll(/^#define PIN_([A-Z0-9_]+) +(\d+)/gm)].map(([, name, gpio]) => [name!, Number(gpio)]),
  );
}

const byName = readPins();

function pin(name: string): number {
  const gpio = byName.get(name);
  if (gpio === undefined) throw new Error(`firmware/board/rp2040/port/pins.h has no PIN_${name}`);
  return gpio;
}

export const pins = {
  LAMP_RELAY: pin('LAMP_RELAY'),
  SAFELIGHT_RELAY: pin('SAFELIGHT_RELAY'),
  PEDAL: pin('PEDAL'),
  KNOB_A: pin('KNOB_A'),
  KNOB_B: pin('KNOB_B'),
  KNOB_PUSH: pin('KNOB_PUSH'),
} as const;

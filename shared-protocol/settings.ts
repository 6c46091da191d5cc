/** What the schema says of one setting. */
export interface Setting {
  /** Where it lies among the settings on the board's flash: given once and for ever. */
  readonly number: number;
  readonly min: number;
  readonly max: number;
  /** The only values it can have, where not all from `min` to `max` are meant; below 32. */
  readonly values?: readonly number[];
  readonly initial: number;
  readonly unit: string;
  readonly meaning: string;
}

/** Every number that a printer may set on the board: name, range, first value, unit and meaning. */
export const settings = {
  'lens-check': {
    number: 0,
    min: 0,
    max: 1,
    initial: 1,
    unit: '',
    meaning: 'after focusing, a hold must confirm that the lens is stopped down',
  },
  'focus-limit-s': {
    number: 1,
    min: 10,
    max: 900,
    initial: 180,
    unit: 's',
    meaning: 'a focus light left on goes out after this',
  },
  'lamp-lag-ms': {
    number: 2,
    min: -500,
    max: 1000,
    initial: 0,
    unit: 'ms',
    meaning: 'light lost by the lamp in each exposure, from the lamp calibration',
  },
  'lamp-rise-ms': {
    number: 3,
    min: 0,
    max: 1000,
    initial: 0,
    unit: 'ms',
    meaning: 'time constant of the lamp coming up',
  },
  'pause-for-dodges': {
    number: 4,
    min: 0,
    max: 1,
    initial: 1,
    unit: '',
    meaning: 'each dodge stops the lamp first, so that the hand can be placed',
  },
  metronome: {
    number: 5,
    min: 0,
    max: 1,
    initial: 1,
    unit: '',
    meaning: 'a tick each second of an exposure',
  },
  'tone-volume': { number: 6, min: 0, max: 100, initial: 40, unit: '%', meaning: 'loudness of the tones' },
  'display-light': {
    number: 7,
    min: 0,
    max: 100,
    initial: 30,
    unit: '%',
    meaning: 'brightness of the display',
  },
  blackout: {
    number: 8,
    min: 0,
    max: 1,
    initial: 0,
    unit: '',
    meaning:
      'the display goes dark while the lamp is on, and only then: keep panchromatic paper covered between two lights',
  },
  'safelight-follows': {
    number: 9,
    min: 0,
    max: 1,
    initial: 1,
    unit: '',
    meaning: 'the safelight goes out while the lamp is on',
  },
  'knob-step': {
    number: 10,
    min: 0,
    max: 24,
    values: [0, 3, 6, 12, 24],
    initial: 12,
    unit: 'clicks a stop',
    meaning: 'how far a click of the knob turns the base: this many make a stop; 0: round seconds',
  },
  'bath-follows': {
    number: 11,
    min: 0,
    max: 1,
    initial: 0,
    unit: '',
    meaning: 'when a sheet has all its light, a tap goes on to the baths, and from there to the next sheet',
  },
  'fibre-paper': {
    number: 12,
    min: 0,
    max: 1,
    initial: 0,
    unit: '',
    meaning: 'the baths take the times of fibre paper, not of resin-coated paper',
  },
  'sheet-cm2': {
    number: 13,
    min: 10,
    max: 20_000,
    initial: 516,
    unit: 'cm2',
    meaning: 'area of a sheet, for the tally of the baths; 8 x 10 inch is 516',
  },
  'safe-minutes': {
    number: 14,
    min: -1,
    max: 60,
    initial: -1,
    unit: 'min',
    meaning: 'how long paper may lie in the safelight, from the safelight test; -1: never tested',
  },
  'confirm-filter': {
    number: 15,
    min: 0,
    max: 1,
    initial: 1,
    unit: '',
    meaning: 'where a pass needs another filter than the last one, a tap must confirm it before the light',
  },
  'tray-c10': {
    number: 16,
    min: 0,
    max: 450,
    initial: 0,
    unit: '0.1 C',
    meaning:
      "the tray's temperature, for baths that have times by temperature; 0: not measured, the row's time holds",
  },
  'first-tone-factor': {
    number: 17,
    min: 0,
    max: 8,
    values: [0, 4, 5, 6, 7, 8],
    initial: 0,
    unit: '',
    meaning:
      'a tap in the first bath when the first tone shows makes its time so many times what has gone by; 0: not (common practice, no source)',
  },
  'zone-minutes': {
    number: 18,
    min: -720,
    max: 840,
    initial: 0,
    unit: 'min',
    meaning: 'how far the time on the knob is ahead of UTC, as the night has it; below zero: behind',
  },
} as const satisfies Readonly<Record<string, Setting>>;
export type SettingName = keyof typeof settings;

/** Whether a setting can have that value. */
export function settingAllows(name: SettingName, value: number): boolean {
  const { min, max, values }: Setting = settings[name];
  return Number.isInteger(value) && value >= min && value <= max && (values?.includes(value) ?? true);
}

/** What a setting can be, without its unit: '10 to 900', or '0, 3 or 6'. */
export function settingRange(name: SettingName): string {
  const { min, max, values }: Setting = settings[name];
  return values === undefined ? `${min} to ${max}` : `${values.slice(0, -1).join(', ')} or ${values.at(-1)}`;
}

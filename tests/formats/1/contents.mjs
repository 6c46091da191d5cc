// What make.mjs puts on the board, every setting away from its first value.
export const lampTestPatches = 7;

export const settingsAway = {
  'lens-check': 0,
  'focus-limit-s': 121,
  'lamp-lag-ms': 119,
  'lamp-rise-ms': 87,
  'dodge-stops': 0,
  metronome: 0,
  'tone-volume': 61,
  'display-light': 17,
  blackout: 1,
  'safelight-follows': 0,
  'knob-step': 6,
  'bath-follows': 1,
  'fibre-paper': 1,
  'sheet-cm2': 774,
  'safe-minutes': 7,
};

const bath = (label, resinCoatedSeconds, fibreSeconds, drainSeconds, agitationSeconds, limitCm2) => ({
  ...{ label, resinCoatedSeconds, fibreSeconds, drainSeconds, agitationSeconds, limitCm2 },
});
export const rowOfBaths = [
  bath('developer', 65, 150, 7, 15, 41_280),
  bath('stöp', 20, 45, 5, 0, 0),
  bath('fixer one', 40, 180, 9, 30, 100_000),
  bath('fixer two', 45, 185, 9, 30, 200_000),
  bath('wash', 240, 900, 11, 0, 0),
];

export const recipes = [
  {
    name: 'boathouse',
    version: 1,
    title: 'Bootshaus am Strand',
    negative: 'SM-014 №7',
    paper: 'matt, façade 🌊',
    baseMs: 12_500,
    aperture10: 80,
    magnification1000: 5234,
    dryDown10: 85,
    passes: [
      {
        ...{ kind: 'base', label: 'whole sheet', filter: '2 1/2', stops120: 0 },
        dodges: [
          { label: 'jetty', stops120: -40 },
          { label: 'façade', stops120: -60 },
        ],
      },
      { kind: 'burn', label: 'sky "left"', filter: '00', stops120: 120, dodges: [] },
      { kind: 'burn', label: 'съ воды', filter: '½', stops120: 60, dodges: [] },
    ],
  },
  {
    name: 'skelder-mere',
    version: 7,
    title: 'Skelder Mere',
    negative: '',
    paper: 'pearl \\ résine',
    baseMs: 8404,
    aperture10: 56,
    magnification1000: 3100,
    dryDown10: 0,
    passes: [
      { kind: 'base', label: 'soft', filter: '00', stops120: -50, dodges: [] },
      {
        ...{ kind: 'base', label: 'hard', filter: '5', stops120: -70 },
        dodges: [{ label: 'reeds', stops120: -33 }],
      },
    ],
  },
  {
    name: 'a-2',
    version: 65_535,
    title: '',
    negative: '雪',
    paper: '',
    baseMs: 3_600_000,
    aperture10: 0,
    magnification1000: 0,
    dryDown10: 500,
    passes: [{ kind: 'base', label: '', filter: '', stops120: 0, dodges: [] }],
  },
];

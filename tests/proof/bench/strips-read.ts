import type { StripWishes } from '../../host/darkroom/reading/made-strip.js';
import { type Tally, tally, trial } from '../../host/darkroom/reading/reading-trials.js';
import { percent, type Section } from './page.js';

/** A thousand of each kind take three quarters of an hour. */
const STRIPS = Number(process.env.STRIPS ?? 50);
/** Beyond those that the reader's figures were tried on while it was made. */
const FIRST_SEED = 10_001;
const TROUBLES = [
  'clipped',
  'automatic tone',
  'too light',
  'too dark',
  'patch missing',
  'dark phone',
  'glare',
  'moire',
  'a print, no strip',
  'nothing on it',
] as const;

/** Each kind of strip, and what was read of so many. */
export function stripsRead(): Section {
  const plain: [string, StripWishes][] = [
    ['flatbed, flat light', { device: 'flatbed' }],
    ['phone, flat light', { device: 'phone' }],
    ['flatbed, a picture on the strip', { device: 'flatbed', light: 'picture' }],
  ];
  const troubled = TROUBLES.flatMap((trouble) =>
    (['flatbed', 'phone'] as const).map((device): [string, StripWishes] => [
      `${device}, ${trouble}`,
      { device, trouble },
    ]),
  );
  return {
    title: 'Strips read back from a scan',
    about:
      `${STRIPS} seeded strips a row (STRIPS=1000 for a thousand) of the virtual darkroom, which is the ground truth: no real paper was read. ISO R 50 to 180, ` +
      'a lamp that comes up slowly, uneven hands, a tilted scan with dust; the flatbed 1 % uneven, 0.3 % flare, gamma off by ' +
      '3 % (one deviation), the phone 3 %, 3 % and 10 %: the same figures as the reader supposes of a device, so a worse one has wider errors than it says. Goals: one deviation of the base 0.035 and 0.09 stop, the printed 95 % ' +
      'interval right in 93 to 97 of 100, R within 6; what is read in spite of a trouble has the truth in its interval.',
    columns: [
      'strips',
      'read',
      'base off, 1 sigma',
      'in the interval',
      'R off, 1 sigma',
      'R in its interval',
      'refused as',
    ],
    rows: [...plain, ...troubled].map(([what, wishes]) => [what, ...cells(tallied(wishes))]),
  };
}

function tallied(wishes: StripWishes): Tally {
  return tally(Array.from({ length: STRIPS }, (_, seed) => trial(FIRST_SEED + seed, wishes)));
}

function cells({ read, sigmaStops, inside, sigmaR, insideR, refused }: Tally): string[] {
  const known = (figure: number, text: string) => (Number.isNaN(figure) ? '-' : text);
  const reasons = Object.entries(refused).map(([code, count]) => `${code} ${count}`);
  return [
    `${read}`,
    known(sigmaStops, sigmaStops.toFixed(3)),
    known(inside, percent(inside)),
    known(sigmaR, sigmaR.toFixed(1)),
    known(insideR, percent(insideR)),
    reasons.join(', '),
  ];
}

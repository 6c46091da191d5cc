import type { StripWishes } from '../../host/darkroom/reading/made-strip.js';
import { type Tally, type Told, tally } from '../../host/darkroom/reading/reading-trials.js';
import { bySeeds } from './by-seeds.js';
import { percent, type Section } from './page.js';
import { scanTime } from './scan-time.js';

/** A thousand of each kind take some twenty minutes of two processors. */
const STRIPS = Number(process.env.STRIPS ?? 50);
/** Beyond those that the reader's figures were tried on while it was made. */
const FIRST_SEED = Number(process.env.SEED ?? 10_001);
/** Only rows that have this in their name, such as 'patch missing' or 'phone, curves'; all where left out. */
const ROWS = process.env.ROWS ?? '';
/** Pixels of a strip's length: enough for its tones; edges and dust are coarser than a scan has them. */
const SIZE = 300;
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

/** What is read of strips, and in what time. */
export async function stripsRead(): Promise<Section[]> {
  return ROWS === '' ? [await kindsRead(), await scanTime()] : [await kindsRead()];
}

/** Each kind of strip, and what was read of so many. */
async function kindsRead(): Promise<Section> {
  const plain: [string, StripWishes][] = [
    ['flatbed, flat light', { device: 'flatbed' }],
    ['phone, flat light', { device: 'phone' }],
    ['flatbed, curves not of the project', { device: 'flatbed', curve: 'foreign' }],
    ['phone, curves not of the project', { device: 'phone', curve: 'foreign' }],
    ['flatbed, a picture on the strip', { device: 'flatbed', light: 'picture' }],
  ];
  const troubled = TROUBLES.flatMap((trouble) =>
    (['flatbed', 'phone'] as const).map((device): [string, StripWishes] => [
      `${device}, ${trouble}`,
      { device, trouble },
    ]),
  );
  const rows: string[][] = [];
  for (const [what, wishes] of [...plain, ...troubled])
    if (what.includes(ROWS)) rows.push([what, ...cells(await tallied(wishes))]);
  return {
    title: 'Strips read back from a scan',
    about:
      `${STRIPS} seeded strips a row (STRIPS=1000 for a thousand), ${SIZE} pixels long, of the virtual darkroom, which is the ground truth: no real paper was read. ISO R 50 to 180, ` +
      'a lamp that comes up slowly, uneven hands, a tilted scan with dust; the flatbed 1 % uneven, 0.3 % flare, gamma off by ' +
      '3 % (one deviation), the phone 3 %, 3 % and 10 %: the same figures as the reader supposes of a device, so a worse one has wider errors than it says. Goals: one deviation of the base 0.035 and 0.09 stop, the printed 95 % ' +
      'interval right in 93 to 97 of 100, R within 6; in spite of a trouble none read with the truth outside the interval.',
    columns: [
      'strips',
      'read',
      'base off, 1 sigma',
      'interval, half',
      'in the interval',
      'outside',
      'R off, 1 sigma',
      'R in its interval',
      'refused as',
    ],
    rows,
  };
}

async function tallied(wishes: StripWishes): Promise<Tally> {
  const seeds = Array.from({ length: STRIPS }, (_, at) => FIRST_SEED + at);
  const worker = new URL('./strip-worker.js', import.meta.url);
  return tally(await bySeeds<StripWishes, Told>(worker, { size: SIZE, ...wishes }, seeds));
}

function cells({ read, sigmaStops, halfWidth, inside, outside, sigmaR, insideR, refused }: Tally): string[] {
  const known = (figure: number, text: string) => (Number.isNaN(figure) ? '-' : text);
  const reasons = Object.entries(refused).map(([code, count]) => `${code} ${count}`);
  return [
    `${read}`,
    known(sigmaStops, sigmaStops.toFixed(3)),
    known(halfWidth, halfWidth.toFixed(2)),
    known(inside, percent(inside)),
    `${outside}`,
    known(sigmaR, sigmaR.toFixed(1)),
    known(insideR, percent(insideR)),
    reasons.join(', '),
  ];
}

import type { PictureWishes } from '../../host/darkroom/reading/picture-trials.js';
import { bySeeds } from './by-seeds.js';
import { percent, type Section } from './page.js';
import type { PictureTold } from './picture-strip-worker.js';
import { byStops, countStrips, USUAL, withinTwo } from './strips-needed.js';

/** A thousand of each kind take some two hours of two processors. */
const STRIPS = Number(process.env.STRIPS ?? 30);
/** Beyond those that the reader's figures were tried on while it was made. */
const FIRST_SEED = Number(process.env.SEED ?? 20_001);
const NEAR_STOPS = 1 / 6;

/** Strips with a picture, and what they tell of the next negative. */
export async function negativesRead(): Promise<Section[]> {
  const flatbed = await toldOf({ device: 'flatbed' });
  const phone = await toldOf({ device: 'phone' });
  const another = await toldOf({ device: 'flatbed', isAnother: true });
  const anotherByPhone = await toldOf({ device: 'phone', isAnother: true });
  const truth =
    'of the virtual darkroom, which is the ground truth: no real paper, film or enlarger was read. Half are of the boathouse, half of ' +
    'made-up scenes; the strip lies anywhere on the frame, mirrored or not, by any quarter turn and crooked by up to 2 degrees; lamp, hands, flatbed and phone as for strips in flat light; the film ' +
    "scanner's gamma is off by 5 % (one deviation), the enlarger's contrast 1 to 1.15 and its stray light 0.5 to 3.5 %. ";
  return [
    {
      title: "Strips with a picture, read against their negative's scan",
      about:
        `${STRIPS} seeded strips a row (STRIPS=1000 for a thousand) ${truth}` +
        'Goals: edges in 48 of 50, one deviation of the base 0.035 stop, of R 5.6, the printed 95 % interval right in 93 to 97 of 100.',
      columns: [
        'strips',
        'read',
        'off the negative, median',
        'edges found',
        'base off, 1 sigma',
        'in the interval',
        'outside',
        'R off, 1 sigma',
        'R in its interval',
        'refused as',
      ],
      rows: [
        ['flatbed', ...cells(flatbed)],
        ['phone', ...cells(phone)],
        ["flatbed, another negative's scan", ...cells(another)],
        ["phone, another negative's scan", ...cells(anotherByPhone)],
      ],
    },
    {
      title: 'Negatives whose base is known before their first strip',
      about:
        `Of the strips above each tied film to light; then another negative came into the carrier, its scan off by 0.01 in density and the evening by 0.03 stop (one deviation). All ${truth}` +
        'Goal: within 1/6 stop in 95 of 100. Beside it, from 5 to 30 s without any scan, how many were known to 1/12 stop after two strips.',
      columns: [
        'tie',
        'negatives',
        'base off, 1 sigma',
        'within 1/6 stop',
        'in the interval',
        'first strip says so itself',
        'two strips enough',
      ],
      rows: [
        ['flatbed', ...firstStripCells(flatbed)],
        ['phone', ...firstStripCells(phone)],
      ],
    },
  ];
}

async function toldOf(wishes: PictureWishes): Promise<PictureTold[]> {
  const seeds = Array.from({ length: STRIPS }, (_, at) => FIRST_SEED + at);
  return bySeeds(new URL('./picture-strip-worker.js', import.meta.url), wishes, seeds);
}

function cells(all: readonly PictureTold[]): string[] {
  const read = all.flatMap((told) => told.read ?? []);
  const ranges = read.flatMap(({ isoR }) => isoR ?? []);
  const refused: Record<string, number> = {};
  for (const told of all) if (told.refused !== null) refused[told.refused] = (refused[told.refused] ?? 0) + 1;
  const known = (text: string) => (read.length === 0 ? '-' : text);
  const edges = (of: 'found' | 'all') => sum(read.map((each) => each.edges[of]));
  return [
    `${read.length}`,
    known(`${median(read.map(({ registrationOff }) => registrationOff)).toFixed(1)} px of 400`),
    known(percent(edges('found') / edges('all'))),
    known(rootMeanSquare(read.map(({ base }) => base.off)).toFixed(3)),
    known(percent(share(read, ({ base }) => base.isInside))),
    known(`${read.filter(({ base }) => !base.isInside).length}`),
    known(rootMeanSquare(ranges.map(({ off }) => off)).toFixed(1)),
    known(percent(share(ranges, ({ isInside }) => isInside))),
    Object.entries(refused)
      .map(([code, count]) => `${code} ${count}`)
      .join(', '),
  ];
}

function firstStripCells(all: readonly PictureTold[]): string[] {
  const next = all.flatMap(({ read }) => read?.next ?? []);
  const twoStrips = countStrips(byStops, USUAL, 0.02, true);
  return [
    `${next.length}`,
    rootMeanSquare(next.map(({ off }) => off)).toFixed(3),
    percent(share(next, ({ off }) => Math.abs(off) <= NEAR_STOPS)),
    percent(share(next, ({ isInside }) => isInside)),
    percent(share(next, ({ halfWidth }) => halfWidth <= NEAR_STOPS)),
    percent(withinTwo(twoStrips)),
  ];
}

function share<Item>(items: readonly Item[], is: (item: Item) => boolean): number {
  return items.filter(is).length / items.length;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function median(values: readonly number[]): number {
  return [...values].sort((one, other) => one - other)[Math.floor(values.length / 2)] ?? Number.NaN;
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(sum(values.map((value) => value * value)) / values.length);
}

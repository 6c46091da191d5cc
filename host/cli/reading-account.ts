import type { StripReading } from '../darkroom/reading/read-strip.js';
import { inMs, type ToldReading } from '../darkroom/reading/reading-data.js';
import { type RefusalCode, refusals } from '../darkroom/reading/refusal.js';
import type { Interval } from '../darkroom/reading/strip-figures.js';
import { InputError } from '../errors.js';
import { hundredths, seconds } from '../figures.js';
import { table } from './terminal/table.js';

/** The strip cannot be read from this scan; the message says why, and what to do. */
export class StripUnreadError extends InputError {
  override readonly name = 'StripUnreadError';
  constructor(readonly code: RefusalCode) {
    super(`the strip was not read (${code}): ${refusals[code]}`);
  }
}

/** Every figure with the ends between which it lies in 95 of 100 cases, of a strip that was read. */
export function readingAccount(told: ToldReading): string {
  const { reading, device, colour } = told;
  const figures = reading.figures!;
  const rows = [
    figureRow(`base for ${reading.tone!.toFixed(2)} above white`, figures.base),
    figureRow('faintest tone, 0.04 above white', figures.white),
    figureRow('full black, 90 % of the deepest', figures.black),
  ];
  return [
    patchTable(reading),
    table(
      [
        { head: 'exposure' },
        ...['time', '95 % from', 'to', 'stops'].map((head) => ({ head, align: 'right' as const })),
      ],
      rows,
    ),
    rangeWords(figures.isoR),
    ...byNegativeWords(reading),
    ...chosenWords(told),
    `Scanner density from paper white, by ${device}, colours by ${colour === 'sRGB' ? 'sRGB, since the file has no profile that can be read' : 'the profile in the file'}.`,
  ].join('\n\n');
}

function patchTable({ patches }: StripReading): string {
  return table(
    ['patch', 'edges', 'density', 'exposure'].map((head) => ({ head, align: 'right' as const })),
    patches.map(({ fromPx, toPx, density, doseMs }, at) => [
      `${at + 1}`,
      `${fromPx}-${toPx}`,
      density.toFixed(2),
      seconds(doseMs),
    ]),
  );
}

function figureRow(what: string, interval: Interval | undefined): string[] {
  if (interval === undefined) return [what, 'not on this strip', '', '', ''];
  const { ms, lowMs, highMs } = inMs(interval);
  return [what, seconds(ms), seconds(lowMs), seconds(highMs), `+-${furthest(interval).toFixed(2)}`];
}

function furthest({ value, low, high }: Interval): number {
  return Math.max(value - low, high - value);
}

function rangeWords(isoR: Interval | undefined): string {
  if (isoR === undefined)
    return 'The ISO range is not told: the strip does not reach from near white to near black.';
  const whole = (value: number) => Math.round(value);
  return `ISO range R${whole(isoR.value)}, from R${whole(isoR.low)} to R${whole(isoR.high)} in 95 of 100 cases.`;
}

/** How strip and negative go together. */
function byNegativeWords({ byNegative, placed }: StripReading): string[] {
  if (byNegative === undefined) return [];
  const { mirrored, turnRadians } = placed!.registration!.placement;
  const tenths = Math.round((turnRadians * 1800) / Math.PI);
  const degrees = (((tenths % 3600) + 3600) % 3600) / 10;
  const { contrast, flareShare } = byNegative;
  const between = ({ value, low, high }: Interval, text: (value: number) => string) =>
    `${text(value)} (${text(Math.max(0, low))} to ${text(high)})`;
  return [
    `The strip was found on the negative: ${mirrored ? 'mirrored, ' : ''}turned by ${degrees.toFixed(1)} degrees. Densities at the easel are ` +
      `${between(contrast, (value) => value.toFixed(2))} times those of the scan, stray light is ` +
      `${between(flareShare, (value) => (100 * value).toFixed(1))} % of the picture's light.`,
  ];
}

/** Against what was taken in the dark, wet and by safelight. */
function chosenWords({ reading, strip }: ToldReading): string[] {
  const base = reading.figures?.base;
  if (base === undefined || strip.chosenMs === undefined) return [];
  const chosen = Math.log2(strip.chosenMs);
  const agrees = chosen >= base.low && chosen <= base.high;
  const by = `${hundredths(Math.round(100 * (base.value - chosen)))} stop`;
  return [
    `In the dark ${seconds(strip.chosenMs)} was chosen: the scan ${agrees ? 'agrees' : 'disagrees'}, by ${by}.`,
  ];
}

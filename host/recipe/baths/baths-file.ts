/** The baths file's schema: what each field may hold, as text for people, and as numbers for everything else. */
import { z } from 'zod';
import { limits } from '../../../shared-protocol/limits.js';
import { text } from '../../../shared-protocol/wire-types.js';
import { written } from '../text/written.js';
import { areaPattern, formatAreaCm2, readAreaCm2 } from './area-text.js';
import { bathTimePattern, formatBathTime, longestSeconds, readBathTime } from './bath-time-text.js';
import { formatDegreesC, readTemperatureC10, temperaturePattern } from './temperature-text.js';

function time(description: string, most: keyof typeof longestSeconds, examples: string[]) {
  const read = (value: string) => readBathTime(value, longestSeconds[most]);
  return written(read, formatBathTime, { description, examples, pattern: bathTimePattern }).optional();
}

const atTemperature = z
  .strictObject({
    at: written(readTemperatureC10, formatDegreesC, {
      description: 'How warm the tray is, in Celsius or Fahrenheit.',
      examples: ['20C', '20.5C', '68F'],
      pattern: temperaturePattern,
    }),
    resinCoated: time('For resin-coated paper at that temperature, draining included.', 'bath', ['90s']),
    fibre: time('The same for fibre paper.', 'bath', ['2m30s']),
  })
  .describe('A time of the data sheet.');

const bath = z.strictObject({
  /** Sixteen columns of the display. */
  label: text(16, 60).min(1),
  resinCoated: time(
    'For resin-coated paper, draining included; without it, resin-coated paper skips this bath.',
    'bath',
    ['90s', '1m30s'],
  ),
  fibre: time('The same for fibre paper.', 'bath', ['2m30s', '1h']),
  drain: time('The part of it at the end in which the paper drains.', 'drain', ['10s']),
  byTemperature: z
    .array(atTemperature)
    .min(2)
    .max(limits.bathPoints)
    .describe(
      "Times by the tray's temperature, two or more from the data sheet; between them the board reckons in the logarithm of time, outside them it refuses. Where the temperature is not told, the bath's own times hold.",
    )
    .optional(),
  agitation: time('From one agitation to the next; without it there is none.', 'agitation', ['30s']),
  limit: written(readAreaCm2, formatAreaCm2, {
    description:
      'How much paper uses it up, as an area or as sheets of a size; without it there is no limit.',
    pattern: areaPattern,
    examples: ['20000cm2', '2m2', '40 x 8x10in'],
  }).optional(),
});

export const bathsFile = z
  .strictObject({
    $schema: z.string().optional().describe('Where this schema lies, for editors.'),
    notes: z
      .array(text(200))
      .max(40)
      .describe('Line by line what you want to remember; it stays on the laptop.')
      .default(() => []),
    baths: z
      .array(bath)
      .min(1)
      .max(limits.baths)
      .describe('In the order in which the paper goes through them.'),
  })
  .describe('A row of baths: how long each kind of paper stays in each, and when one is used up.');

/** The file as people write it, and as it is read. */
export type WrittenBaths = z.input<typeof bathsFile>;
export type ReadBaths = z.output<typeof bathsFile>;

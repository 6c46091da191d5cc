/** The recipe file's schema: what each field may hold, as text for people, and as numbers for everything else. */
import { z } from 'zod';
import { limits } from '../../shared-protocol/limits.js';
import { nameText, text } from '../../shared-protocol/wire-types.js';
import { filmTieSchema } from './film-tie.js';
import { framingSchema } from './framing.js';
import { shapeSchema } from './shape.js';
import { aperturePattern, formatAperture10, readAperture10 } from './text/aperture-text.js';
import { dryDownPattern, formatDryDown10, readDryDown10 } from './text/dry-down-text.js';
import { formatStops, offsetPattern, readOffset } from './text/stop-text.js';
import { exposurePattern, formatTime, readExposure } from './text/time-text.js';
import { UnreadableText } from './text/unreadable-text.js';
import { written } from './text/written.js';

function stops(description: string, examples: string[], fits: (stops120: number) => string | undefined) {
  const read = (value: string) => {
    const stops120 = readOffset(value);
    const fault = fits(stops120);
    if (fault !== undefined) throw new UnreadableText(`'${value}' ${fault}`);
    return stops120;
  };
  return written(read, formatStops, { description, examples, pattern: offsetPattern });
}

const offset = () =>
  stops('Offset from the base in stops.', ['0', '+1/3', '-1/2', '1 1/4', '+0.584963'], () => undefined);

const more = () =>
  stops('What the area gets on top of the base, in stops.', ['+3/4', '+1'], (stops120) =>
    stops120 > 0 ? undefined : 'adds no light; a burn is above zero, such as +1/2',
  );

const less = () =>
  stops('What is held back from the area, in stops of its pass.', ['-1/3', '-1/2'], (stops120) =>
    stops120 < 0 ? undefined : 'holds nothing back; a dodge is below zero, such as -1/3',
  );

/** Sixteen columns of the display. */
const label = () => text(16, 60);
/** A filter in a file, and as the board takes it. */
export const filterName = text(8, 24).describe('The filter as you call it.');
/** A line of text that the board shows shortened. */
const line = () => text(80);
const millimetres = () => z.number().min(1).max(10_000);

const shape = () =>
  shapeSchema.optional().describe('Where the hand or card goes, for the printing map and the preview.');

const dodge = z.strictObject({ label: label().min(1), stops: less(), shape: shape() });

const dodges = () =>
  z
    .array(dodge)
    .max(limits.recipeDodges)
    .describe('One after another at the start of the pass.')
    .default(() => []);

const basePass = z.strictObject({
  kind: z.literal('base'),
  label: label().min(1).default('base'),
  filter: filterName.default(''),
  stops: offset().default(0),
  dodges: dodges(),
});

const burnPass = z.strictObject({
  kind: z.literal('burn'),
  label: label().min(1),
  filter: filterName.default(''),
  stops: more(),
  shape: shape(),
  dodges: dodges(),
});

export const recipeFile = z
  .strictObject({
    $schema: z.string().optional().describe('Where this schema lies, for editors.'),
    name: nameText(20)
      .min(1)
      .optional()
      .describe('What the board keeps it under; made of the title if left out.'),
    title: line().min(1),
    version: z.int().min(0).max(0xffff).default(1),
    negative: line().default(''),
    paper: line().default(''),
    aperture: written(readAperture10, formatAperture10, {
      description: 'The lens stop as engraved.',
      pattern: aperturePattern,
      examples: ['f/8', 'f/5.6'],
    }).optional(),
    magnification: z.number().min(0.1).max(60).optional().describe("The print's side over the negative's."),
    columnHeightMm: millimetres().optional().describe('From negative to paper.'),
    focalLengthMm: millimetres().optional(),
    dryDown: written(readDryDown10, formatDryDown10, {
      description: 'Less light for a paper that dries darker.',
      pattern: dryDownPattern,
      examples: ['8%'],
    }).optional(),
    base: written(readExposure, formatTime, {
      description: 'The base exposure, to which every offset refers.',
      pattern: exposurePattern,
      examples: ['12.5s'],
    }),
    passes: z
      .array(z.discriminatedUnion('kind', [basePass, burnPass]))
      .min(1)
      .max(limits.recipePasses),
    framing: framingSchema
      .optional()
      .describe("How the scan lies in the easel's frame, for the printing map and the preview."),
    filmTie: filmTieSchema.optional(),
    notes: z.string().max(4000).default(''),
    history: z
      .array(text(200))
      .max(200)
      .describe('What was changed and why, oldest first.')
      .default(() => []),
  })
  .describe('A dodge and burn recipe: everything that makes one print again.');

/** The file as people write it, and as it is read. */
export type WrittenRecipe = z.input<typeof recipeFile>;
export type ReadRecipe = z.output<typeof recipeFile>;

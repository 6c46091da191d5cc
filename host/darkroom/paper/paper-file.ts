import { z } from 'zod';
import { text } from '../../../shared-protocol/wire-types.js';
import { readBySchema } from '../../recipe/reading/read-by-schema.js';
import { isoBounds } from './iso-6846.js';
import type { PaperFigures } from './paper.js';

const between = (what: string) =>
  z
    .array(z.number().min(0))
    .length(2)
    .refine(([low, high]) => low! <= high!, 'the lower figure comes first')
    .optional()
    .describe(`Between what ${what} lies in 95 of 100 cases, where it was measured.`);

/** A paper as its owner writes it down: from its data sheet, or from readings of one's own. */
export const paperFileSchema = z
  .strictObject({
    $schema: z.string().optional().describe('Where this schema lies, for editors.'),
    name: z.string().min(1).max(80),
    baseDensity: z.number().min(0).max(1).default(0.05).describe('Of unexposed, processed paper.'),
    maximumDensity: z.number().min(1).max(4).default(2.1).describe('The deepest black that it gives.'),
    developer: z.string().max(80).optional().describe('The one that these figures hold for.'),
    dryDownStops: z.number().min(-1).max(1).optional().describe('How much darker it dries, in stops.'),
    filters: z
      .array(
        z.strictObject({
          filter: text(8, 24).describe('As recipes call it; empty for none.'),
          speedP: z
            .number()
            .min(isoBounds.speedP.min)
            .max(isoBounds.speedP.max)
            .describe('ISO P through this filter.'),
          rangeR: z
            .number()
            .min(isoBounds.rangeR.min)
            .max(isoBounds.rangeR.max)
            .describe('ISO R through this filter.'),
          speedP95: between('the speed'),
          rangeR95: between('the range'),
        }),
      )
      .min(1)
      .max(40)
      .refine(
        (filters) => new Set(filters.map(({ filter }) => filter)).size === filters.length,
        'a filter stands in it twice',
      ),
  })
  .describe('A paper: its speed and range through each filter, for previews.');

/**
 * Reads a paper from its JSON file.
 * @throws FileError with every problem, each with its place.
 */
export function readPaper(bytes: Uint8Array | string): PaperFigures {
  const { name, baseDensity, maximumDensity, filters } = readBySchema(bytes, paperFileSchema);
  const figures = filters.map(({ filter, speedP, rangeR }) => [filter, { speedP, rangeR }] as const);
  return { name, baseDensity, maximumDensity, filters: Object.fromEntries(figures) };
}

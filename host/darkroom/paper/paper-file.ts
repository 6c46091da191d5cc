import { z } from 'zod';
import { text } from '../../../shared-protocol/wire-types.js';
import { readBySchema } from '../../recipe/reading/read-by-schema.js';
import { isoBounds } from './iso-6846.js';
import type { PaperFigures } from './paper.js';

/** A paper as its owner writes it down: from its data sheet, or from readings of one's own. */
export const paperFileSchema = z.strictObject({
  name: z.string().min(1).max(80),
  /** Of unexposed, processed paper. */
  baseDensity: z.number().min(0).max(1).default(0.05),
  maximumDensity: z.number().min(1).max(4).default(2.1),
  filters: z
    .array(
      z.strictObject({
        /** As recipes call it; empty for none. */
        filter: text(8, 24),
        /** ISO P and R. */
        speedP: z.number().min(isoBounds.speedP.min).max(isoBounds.speedP.max),
        rangeR: z.number().min(isoBounds.rangeR.min).max(isoBounds.rangeR.max),
      }),
    )
    .min(1)
    .max(40),
});

/**
 * Reads a paper from its JSON file.
 * @throws FileError with every problem, each with its place.
 */
export function readPaper(bytes: Uint8Array | string): PaperFigures {
  const { filters, ...same } = readBySchema(bytes, paperFileSchema);
  return { ...same, filters: Object.fromEntries(filters.map(({ filter, ...figures }) => [filter, figures])) };
}

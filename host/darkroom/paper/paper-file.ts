import { z } from 'zod';
import { text } from '../../../shared-protocol/wire-types.js';
import { isoBounds } from './iso-6846.js';
import { PaperError, type PaperFigures } from './paper.js';

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

/** Reads a paper from the text of a JSON file. @throws PaperError with every problem, each with its place. */
export function readPaper(json: string): PaperFigures {
  let data: unknown;
  try {
    data = JSON.parse(json);
  } catch (error) {
    throw new PaperError('', `the paper's file is not JSON: ${(error as Error).message}`);
  }
  const result = paperFileSchema.safeParse(data);
  if (!result.success) {
    const problems = result.error.issues.map(
      ({ path, message }) => `${path.join('.') || 'file'}: ${message}`,
    );
    throw new PaperError(
      String(result.error.issues[0]?.path[0] ?? ''),
      `the paper's file cannot be used:\n${problems.join('\n')}`,
    );
  }
  const { filters, ...same } = result.data;
  return { ...same, filters: Object.fromEntries(filters.map(({ filter, ...figures }) => [filter, figures])) };
}

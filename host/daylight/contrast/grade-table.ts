import { z } from 'zod';
import { readBySchema } from '../../recipe/reading/read-by-schema.js';

/**
 * Grades as ranges of log exposure that they print, softest first. A range on the edge between two grades
 * belongs to the softer one.
 */
export const gradeTableSchema = z
  .array(
    z.strictObject({
      grade: z.string().min(1).max(8),
      fromR: z.number().min(0).max(300).describe('ISO R, hundredths of log exposure: from here'),
      toR: z.number().min(0).max(300).describe('up to here'),
    }),
  )
  .min(1)
  .max(20)
  .refine(
    (grades) => grades.every(({ fromR, toR }) => fromR < toR),
    'each grade must end above where it begins',
  )
  .describe('Grades as ranges of log exposure that they print, softest first.');

export type GradeTable = z.output<typeof gradeTableSchema>;
export type Grade = GradeTable[number];

/** Reads a table from its JSON file. @throws FileError with every problem, each with its place. */
export function readGradeTable(bytes: Uint8Array | string): GradeTable {
  return readBySchema(bytes, gradeTableSchema);
}

/**
 * The standard's old bands. Outer limits (0.35 to 1.70): ANSI PH2.2-1966 and its 1978 draft as the Focal
 * Encyclopedia of Photography gives them, p. 679; inner edges from memory.
 */
export const standardGrades: GradeTable = [
  { grade: '0', fromR: 140, toR: 170 },
  { grade: '1', fromR: 115, toR: 140 },
  { grade: '2', fromR: 95, toR: 115 },
  { grade: '3', fromR: 80, toR: 95 },
  { grade: '4', fromR: 65, toR: 80 },
  { grade: '5', fromR: 50, toR: 65 },
  { grade: '6', fromR: 35, toR: 50 },
];

/** The grade whose band comes nearest to `rangeR`, which may lie outside all of them. */
export function nearestGrade(table: GradeTable, rangeR: number): Grade {
  const apart = ({ fromR, toR }: Grade) => Math.max(fromR - rangeR, rangeR - toR, 0);
  return (
    gradeForRange(table, rangeR) ?? table.reduce((best, grade) => (apart(grade) < apart(best) ? grade : best))
  );
}

/** The grade whose band holds `rangeR`; undefined outside the table. An end that no softer grade begins at is in. */
export function gradeForRange(table: GradeTable, rangeR: number): Grade | undefined {
  return (
    table.find(({ fromR, toR }) => rangeR >= fromR && rangeR < toR) ?? table.find(({ toR }) => rangeR === toR)
  );
}

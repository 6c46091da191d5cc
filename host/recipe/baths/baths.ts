/** Baths from their file and back, in the units of a board. */
import { jsonText } from '../../json-text.js';
import type { FieldProblem } from '../reading/field-problems.js';
import { readBySchema } from '../reading/read-by-schema.js';
import type { BathTimes } from './bath.js';
import { formatBathTime } from './bath-time-text.js';
import { bathsFile, type ReadBaths, type WrittenBaths } from './baths-file.js';

export type ReadBath = ReadBaths['baths'][number];

/**
 * Reads a baths file: UTF-8 JSON by the published schema.
 * @throws FileError with all problems at once, each with its path in the file and its line and column.
 */
export function readBathsFile(bytes: Uint8Array | string): ReadBaths {
  return readBySchema(bytes, bathsFile, ({ baths }) => bathProblems(baths));
}

/** The baths of a file, as a board takes them. @throws as `readBathsFile` */
export function readBaths(bytes: Uint8Array | string): BathTimes[] {
  return readBathsFile(bytes).baths.map(fromFile);
}

/** What no schema can say of a row of baths. */
export function bathProblems(row: readonly ReadBath[]): FieldProblem[] {
  return [...row.flatMap(problemsOf), ...row.flatMap(sameLabels)];
}

/** What stands in a baths file, without what says nothing. */
export function fileFromBaths(read: ReadBaths): WrittenBaths {
  const { notes = [], ...file } = bathsFile.encode(read);
  return notes.length === 0 ? file : { ...file, notes };
}

/** The text of a baths file; `readBaths` undoes it. */
export function writeBaths(row: readonly BathTimes[], notes: readonly string[] = []): string {
  return `${jsonText(fileFromBaths({ notes: [...notes], baths: row.map(toFile) }), 2)}\n`;
}

/** What no schema can say of one bath. */
function problemsOf(bath: ReadBath, index: number): FieldProblem[] {
  const { resinCoated = 0, fibre = 0, drain = 0 } = bath;
  if (resinCoated === 0 && fibre === 0)
    return [{ path: ['baths', index], message: 'no paper goes in: give resinCoated or fibre, or both' }];
  return (['resinCoated', 'fibre'] as const)
    .filter((paper) => (bath[paper] ?? 0) !== 0 && (bath[paper] ?? 0) <= drain)
    .map((paper) => ({
      path: ['baths', index, 'drain'],
      message: `draining is part of the bath's time, and ${paper} has only ${formatBathTime(bath[paper]!)} in all`,
    }));
}

/** The board knows a bath and its tally by the label. */
function sameLabels({ label }: ReadBath, index: number, row: readonly ReadBath[]): FieldProblem[] {
  const first = row.findIndex((other) => other.label === label);
  if (first === index) return [];
  const message = `'${label}' is bath ${first + 1} already, and two of one label would share a tally: give each its own`;
  return [{ path: ['baths', index, 'label'], message }];
}

function fromFile({ label, resinCoated, fibre, drain, agitation, limit }: ReadBath): BathTimes {
  return {
    label,
    resinCoatedSeconds: resinCoated ?? 0,
    fibreSeconds: fibre ?? 0,
    drainSeconds: drain ?? 0,
    agitationSeconds: agitation ?? 0,
    limitCm2: limit ?? 0,
  };
}

/** What is nothing is left out. */
function toFile(bath: BathTimes): ReadBath {
  return {
    label: bath.label,
    resinCoated: bath.resinCoatedSeconds || undefined,
    fibre: bath.fibreSeconds || undefined,
    drain: bath.drainSeconds || undefined,
    agitation: bath.agitationSeconds || undefined,
    limit: bath.limitCm2 || undefined,
  };
}

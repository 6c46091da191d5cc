/**
 * Changes that no test can notice, since what the core does stays the same, and why: what the compiler's optimizer cannot
 * prove. A change that only does no harm that anybody thought of does not belong here.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';

interface Equal {
  readonly file: string;
  /** Part of the line that is changed; it stands in the file. */
  readonly line: string;
  readonly change: RegExp;
  readonly why: string;
}

const sign = /_s as \w+_u$/;
/** The last byte of a record, where its longest text ends before that. */
const padding = 'the record ends in padding, which is zero from the start and which nothing writes';

const equals: readonly Equal[] = [
  {
    file: 'firmware/core/plan/pulses.ts',
    line: 'end < plan.pieceCount',
    change: sign,
    why: 'both count from 0',
  },
  {
    file: 'firmware/core/jobs/clock/clock-rows.ts',
    line: 'u8(0x30 + value / 10)',
    change: sign,
    why: 'no day, month, hour or minute is below zero',
  },
  {
    file: 'firmware/core/jobs/process/process.ts',
    line: 'seconds / 1000',
    change: sign,
    why: 'a product of what went by, 1 ms or more, and of a setting that is never below zero',
  },
  {
    file: 'firmware/core/jobs/plain/plain-light.ts',
    line: 'plan.addPiece(PieceKind.Open, STOPS_FIRST, doseMs)',
    change: /^1 as 0$/,
    why: 'only a piece with another before it is asked whether it stops the lamp',
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'memory.fill(incomingBaths, 0, BATH_ROW_BYTES)',
    change: /^448 as 447$/,
    why: padding,
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'memory.copy(incomingBaths, bathRow, BATH_ROW_BYTES)',
    change: /^448 as 447$/,
    why: padding,
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'memory.copy(bathRow, incomingBaths, BATH_ROW_BYTES)',
    change: /^448 as 447$/,
    why: padding,
  },
  {
    file: 'firmware/core/log/entries.ts',
    line: 'memory.fill(entry, 0, EXPOSURE_BYTES)',
    change: /^104 as 103$/,
    why: padding,
  },
  {
    file: 'firmware/core/protocol/upload.ts',
    line: 'memory.copy(incomingRecipe, changetype<usize>(recipeBegin), RECIPE_BEGIN_BYTES)',
    change: /^24 as 23$/,
    why: padding,
  },
];

export function isEqualInWords(file: string, words: string, sourceLine: string): boolean {
  return equals.some(
    (equal) => file === equal.file && sourceLine.includes(equal.line) && equal.change.test(words),
  );
}

/** What is said of lines that are not there any more. */
export function requireNoStaleWords(): void {
  const stale = equals.filter(
    ({ file, line }) => !readFileSync(join(projectRoot, file), 'utf8').includes(line),
  );
  if (stale.length === 0) return;
  const lines = stale.map(({ file, line }) => `${file}: '${line}'`);
  throw new Error(`words about lines that are not there: ${lines.join(', ')}`);
}

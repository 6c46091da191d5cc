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
    file: 'firmware/core/log/entries.ts',
    line: 'focus.onMs = roundedMs(onUs)',
    change: /^i64\.extend_i32_u as extend_i32_s$/,
    why: 'no light for focusing lasts 2^31 us: the longest that may be set is a quarter of an hour',
  },
  {
    file: 'firmware/core/protocol/characters.ts',
    line: 'point < 0x20',
    change: sign,
    why: 'no character has a number below zero',
  },
  {
    file: 'firmware/core/protocol/line-reader.ts',
    line: '++count > maxChars',
    change: sign,
    why: 'both count from 0',
  },
  {
    file: 'firmware/core/timers/civil-time.ts',
    line: 'inCycle < 366',
    change: sign,
    why: 'a day of a cycle of four years, from 0',
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
  {
    file: 'host/board/link/answer-watch.ts',
    line: 'this.#waitUntil(this.#sentMs + this.#noiseMs)',
    change: /^\+ as -$/,
    why: 'woken too early it sees that nothing is due and waits on',
  },
  {
    file: 'host/board/link/line-framer.ts',
    line: 'this.#lineBytes + end - start > LONGEST_KEPT',
    change: /^> as >=$/,
    why: 'a line of just that length has no surplus to leave out',
  },
  {
    file: 'host/board/link/log-window.ts',
    line: 'last === undefined ? 0 :',
    change: /^0 as 1$/,
    why: 'without a last stretch the count is not asked for',
  },
  {
    file: 'host/board/link/log-collection.ts',
    line: 'this.#beginSeq === undefined ? 0 :',
    change: /^0 as 1$/,
    why: 'it is only held against thousands of entries',
  },
  {
    file: 'host/board/link/port-note.ts',
    line: "digest('hex').slice(0, 16)",
    change: /^16 as 17$/,
    why: 'who writes the note and who reads it go by the same name',
  },
];

/** The same for every line that looks so, in any file of the core. */
interface Rule {
  readonly line: RegExp;
  readonly change: RegExp;
  readonly why: string;
}

const rules: readonly Rule[] = [
  {
    line: /for \(let (\w+) = [\w.]+(?:, \w+ = [^;]+)?; \1 < [^;]+; \1(?:\+\+| \+= \w+)/,
    change: /^i32\.lt_s as lt_u$|^i32\.gt_s as gt_u$/,
    why: 'it counts up from a place, and both ends are places or counts, none of them below zero',
  },
  {
    line: /for \((?:let (\w+) = abs\([^;]+)?; ?(\w+) > 0; \2(?:--| \/= 10)/,
    change: /^i32\.gt_s as gt_u$/,
    why: 'it counts down from a number that is not below zero, and ends at zero',
  },
  {
    line: /(\w+) (?:< 1|< 0) \|\| \1 > [A-Z_]+|(\w+) >= 1 && \2 <= [A-Z_]+/,
    change: /^i32\.gt_s as gt_u$/,
    why: 'what is below zero was told before',
  },
  {
    line: /\.(?:passes|dodges|patches|points?|baths?|firstPiece|pieceCount|dodgeCount|pulses|kind|pass|patch|recipePass)\b/,
    change: /^i32\.load8_u as load8_s$/,
    why: 'a kind or a count: the most that there is of anything are the 47 pieces of a plan',
  },
  {
    line: /load<u8>\((?:name|one|two|other|text|words|word|from)\)/,
    change: /^i32\.load8_u as load8_s$/,
    why: 'the length of a text, and none is longer than 96 bytes',
  },
  {
    line: /\.(?:bodyBytes|stepStops120)\b|load<u16>\(FIRST_FIELDS/,
    change: /^i32\.load16_u as load16_s$/,
    why: 'far below 2^15: a document lies in one sector, a step is ten stops at most, and there are few fields',
  },
  {
    line: /shift >= 0; shift -= 4/,
    change: /^0 as -1$/,
    why: 'it goes down by four, from a number that fours go into',
  },
];

export function isEqualInWords(file: string, words: string, sourceLine: string): boolean {
  return (
    equals.some(
      (equal) => file === equal.file && sourceLine.includes(equal.line) && equal.change.test(words),
    ) || rules.some(({ line, change }) => line.test(sourceLine) && change.test(words))
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

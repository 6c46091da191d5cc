/**
 * Changes that no test can notice, since what the core does stays the same, and why: what the compiler's optimizer cannot
 * prove. A change that only does no harm that anybody thought of does not belong here.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';
import { bathsAndStrips } from './core/equal/baths-and-strips.js';
import { edgesOfLines } from './core/equal/edges-of-lines.js';
import { eveningAndPanel } from './core/equal/evening-and-panel.js';
import { jobsAndPlans } from './core/equal/jobs-and-plans.js';
import { nobodyAsks } from './core/equal/nobody-asks.js';
import { protocolAndStorage } from './core/equal/protocol-and-storage.js';
import { rowsAndRecords } from './core/equal/rows-and-records.js';
import { signsAndEdges } from './core/equal/signs-and-edges.js';
import { storageAndBaths } from './core/equal/storage-and-baths.js';
import { hostEquals } from './host/equal-lines.js';
import { lineOf } from './line-of.js';

const equals = [
  ...jobsAndPlans,
  ...eveningAndPanel,
  ...edgesOfLines,
  ...signsAndEdges,
  ...protocolAndStorage,
  ...storageAndBaths,
  ...nobodyAsks,
  ...bathsAndStrips,
  ...rowsAndRecords,
  ...hostEquals,
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
    line: /load<u8>\((?:BEFORE|BEHIND)_RECIPES/,
    change: /^i32\.load8_u as load8_s$/,
    why: 'kinds of work, of which there are eleven',
  },
  {
    line: /plan\.refuse\(PlanCode\.\w+, [^,]+, -1,/,
    change: /^-1 as -2$/,
    why: 'of the place of what is refused it is asked only whether it is below zero',
  },
  {
    line: /\.(?:bodyBytes|stepStops120)\b|load<u16>\(FIRST_FIELDS/,
    change: /^i32\.load16_u as load16_s$/,
    why: 'far below 2^15: a document lies in one sector, a step is ten stops at most, and there are few fields',
  },
  {
    line: /for \(let left = clicksOfTurn\(abs\(|while \((?:length|end|count) > 0\b/,
    change: /^i32\.gt_s as gt_u$/,
    why: 'it counts down from a number that is not below zero, and ends at zero',
  },
  {
    line: /sectorAfter\(0, SectorState\.(?:Ghost|Ready)\)/,
    change: /^0 as (?:1|-1)$/,
    why: 'all round is looked through from wherever it begins: one sector at most is ready, ghosts go in any order',
  },
  {
    line: /^\s*(?:return -1;|if \(!skip\w+\(\w*\)\) return -1;)$/,
    change: /^-1 as -2$/,
    why: 'whoever is told so asks only whether it is below zero',
  },
  {
    line: /^\s*if \(wrong\) return (?:0|false);/,
    change: /^0 as (?:1|-1)$/,
    why: 'of a line that is wrong nothing is taken, whatever was read of it',
  },
  {
    line: /load<u8>\([^)]*\)+ [!=]= (?:0x[0-7][0-9a-f]\b|QUOTE|RETURN|BLANK|COMMA|MINUS)|hexValue\(load<u8>/,
    change: /^i32\.load8_u as load8_s$/,
    why: 'what it is compared with is plain ASCII, and a byte beyond that is none of it, with a sign or without',
  },
  {
    line: /load<u16>\(\w+\) [!=]= 0x[0-7][0-9a-f]{3}\b/,
    change: /^i32\.load16_u as load16_s$/,
    why: 'what it is compared with has no sign in 16 bits, and what has one is not it either way',
  },
  {
    line: /shift >= 0; shift -= 4/,
    change: /^0 as -1$/,
    why: 'it goes down by four, from a number that fours go into',
  },
];

export function isEqualInWords(mutant: {
  readonly file: string;
  readonly line: number;
  readonly words: string;
}): boolean {
  const { file, line, words } = mutant;
  const text = lineOf(mutant);
  const above = lineOf({ file, line: line - 1 });
  return (
    equals.some(
      (equal) =>
        file === equal.file &&
        text.includes(equal.line) &&
        above.includes(equal.below ?? '') &&
        equal.change.test(words),
    ) || rules.some((rule) => rule.line.test(text) && rule.change.test(words))
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

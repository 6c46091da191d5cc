import { stripAdvice } from '../../../daylight/advice.js';
import { formatStops, formatTime } from '../../../recipe/index.js';
import { type Lamp, loadPlanner } from '../../../recipe/planner/index.js';
import { fileFromStrip, type ReadStrip, readStripFile, stripRequest } from '../../../recipe/strip-file.js';
import { plannedStrip, stripAccount } from '../../strip-account.js';
import { changedLines, type Shown } from '../changed-lines.js';
import type { Kind } from '../kind.js';
import { settableNamed } from '../settable.js';
import { askStrip, stripSettables } from './strip-questions.js';

/** Test strips, as the board would give them with this lamp. */
export function stripKind(lamp: Lamp): Kind<ReadStrip> {
  const planned = (strip: ReadStrip) => plannedStrip({ ...stripRequest(strip), lamp });
  return {
    usual: usualStrip(),
    read: readStripFile,
    file: fileFromStrip,
    questions: (before) => askStrip(before, planned),
    set: (strip, name, answer) => settableNamed(stripSettables(strip), name).set(answer),
    complete: (strip) => {
      planned(strip);
      return strip;
    },
    account: (strip) => {
      const plan = planned(strip);
      const advice = stripAdvice(plan);
      return {
        words: stripAccount(stripRequest(strip), plan, advice),
        data: { strip: fileFromStrip(strip), plan, advice },
      };
    },
    changes: (before, after) => changedLines(shown(before), shown(after)),
    revise: (_, after) => after,
    called: () => 'The strip',
    fileName: () => 'strip',
  };
}

function usualStrip(): ReadStrip {
  const { firstMs, ...same } = loadPlanner().usualStrip();
  return { filter: '', notes: '', ...same, first: firstMs };
}

function shown({ first, step, patches, cover, filter, notes }: ReadStrip): Shown {
  return [
    ['first', formatTime(first)],
    ['step', 'equalMs' in step ? formatTime(step.equalMs) : formatStops(step.stops120)],
    ['patches', String(patches)],
    ['cover', cover],
    ['filter', filter],
    ['notes', notes],
  ];
}

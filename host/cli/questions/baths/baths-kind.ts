import {
  bathProblems,
  fileFromBaths,
  formatAreaCm2,
  formatBathTime,
  type ReadBath,
  type ReadBaths,
  readBathsFile,
  timesByTemperature,
  usualBathsFile,
} from '../../../recipe/baths/index.js';
import { BATH_COLUMNS, temperatureTable } from '../../bath-tables.js';
import { table } from '../../terminal/table.js';
import { UsageError } from '../../usage-error.js';
import { changedLines, type Shown } from '../changed-lines.js';
import type { Kind } from '../kind.js';
import { settableNamed } from '../settable.js';
import { askBaths, bathSettables, setTemperature } from './bath-questions.js';
import { temperatureWords } from './temperature-questions.js';

/** Rows of baths. */
export const bathsKind: Kind<ReadBaths> = {
  usual: { ...readBathsFile(usualBathsFile()), notes: [] },
  read: readBathsFile,
  file: fileFromBaths,
  *questions(before) {
    return { ...before, baths: yield* askBaths(before.baths) };
  },
  set: (row, name, answer) =>
    setTemperature(row, name, answer) ?? settableNamed(bathSettables(row), name).set(answer),
  complete: (row) => {
    const [problem] = bathProblems(row.baths);
    if (problem !== undefined) {
      const label = row.baths[Number(problem.path[1])]?.label;
      throw new UsageError(label === undefined ? problem.message : `'${label}': ${problem.message}`);
    }
    const lone = row.baths.find(({ byTemperature }) => byTemperature?.length === 1);
    if (lone !== undefined)
      throw new UsageError(
        `'${lone.label}': a time at one temperature tells nothing of others; give two or more, as ${lone.label}.18C.fibre`,
      );
    if (row.baths.length === 0) throw new UsageError('a row needs a bath; one was the last');
    return row;
  },
  account: (row) => ({ words: account(row), data: fileFromBaths(row) }),
  changes: (before, after) => changedLines(before.baths.flatMap(shown), after.baths.flatMap(shown)),
  revise: (_, after) => after,
  called: () => 'The row of baths',
  fileName: () => 'baths',
};

function account({ baths }: ReadBaths): string {
  const row = table(
    [...BATH_COLUMNS, { head: 'limit' }],
    baths.map((bath, at) => [`${at + 1}`, bath.label, ...cells(bath).map((cell) => cell || '-')]),
  );
  const times = baths.flatMap(timesByTemperature);
  return times.length === 0
    ? row
    : [row, '', 'By the temperature of the tray:', temperatureTable(times)].join('\n');
}

function cells({ resinCoated, fibre, drain, agitation, limit }: ReadBath): string[] {
  const time = (seconds = 0) => (seconds === 0 ? '' : formatBathTime(seconds));
  return [
    ...[time(resinCoated), time(fibre), time(drain), agitation ? `every ${time(agitation)}` : ''],
    limit === undefined ? '' : formatAreaCm2(limit),
  ];
}

/** A line for each bath: '2m, 2m30s, draining 10s, agitation every 10s'. */
function shown(bath: ReadBath): Shown {
  const words = ['resin-coated ', 'fibre ', 'draining ', 'agitation ', 'used up by '];
  const parts = cells(bath).flatMap((cell, at) => (cell === '' ? [] : [words[at] + cell]));
  return [[bath.label, [...parts, ...temperatureWords(bath)].join(', ')]];
}

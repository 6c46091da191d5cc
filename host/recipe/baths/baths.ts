/** Baths from their file and back, in the units of a board. */
import { limits } from '../../../shared-protocol/limits.js';
import { jsonText } from '../../json-text.js';
import type { FieldProblem } from '../reading/field-problems.js';
import { readBySchema } from '../reading/read-by-schema.js';
import type { BathTimes, TemperatureTime } from './bath.js';
import { formatBathTime } from './bath-time-text.js';
import { bathsFile, type ReadBaths, type WrittenBaths } from './baths-file.js';
import { formatDegreesC } from './temperature-text.js';

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

/** A row of baths, and the times by temperature of those that have some. */
export interface BathsOnFile {
  readonly baths: BathTimes[];
  readonly times: TemperatureTime[];
}

/** The same with the times by temperature. @throws as `readBathsFile` */
export function readWholeBaths(bytes: Uint8Array | string): BathsOnFile {
  const { baths } = readBathsFile(bytes);
  return { baths: baths.map(fromFile), times: baths.flatMap(timesByTemperature) };
}

/** What no schema can say of a row of baths. */
export function bathProblems(row: readonly ReadBath[]): FieldProblem[] {
  return [
    ...row.flatMap(problemsOf),
    ...row.flatMap(sameLabels),
    ...row.flatMap(temperatureProblems),
    ...tooManyTimes(row),
  ];
}

/** What stands in a baths file, without what says nothing. */
export function fileFromBaths(read: ReadBaths): WrittenBaths {
  const { notes = [], ...file } = bathsFile.encode(read);
  return notes.length === 0 ? file : { ...file, notes };
}

/** The text of a baths file; `readBaths` undoes it. */
export function writeBaths(
  row: readonly BathTimes[],
  notes: readonly string[] = [],
  times: readonly TemperatureTime[] = [],
): string {
  const baths = row.map((bath) => ({ ...toFile(bath), ...byTemperature(bath.label, times) }));
  return `${jsonText(fileFromBaths({ notes: [...notes], baths }), 2)}\n`;
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

/** Each paper that has a time at one temperature has one at all, and one of the bath's own; no temperature comes twice. */
function temperatureProblems({ byTemperature = [], ...bath }: ReadBath, index: number): FieldProblem[] {
  const problems: FieldProblem[] = [];
  const say = (at: number, message: string) =>
    problems.push({ path: ['baths', index, 'byTemperature', at], message });
  byTemperature.forEach(({ at }, place) => {
    const first = byTemperature.findIndex((other) => other.at === at);
    if (first !== place) say(place, `${formatDegreesC(at)} is there already: give each temperature once`);
  });
  for (const paper of ['resinCoated', 'fibre'] as const) {
    const has = byTemperature.map((time) => (time[paper] ?? 0) !== 0);
    if (!has.includes(true)) continue;
    const missing = has.indexOf(false);
    if (missing >= 0) say(missing, `${paper} is missing here and given at another temperature`);
    if ((bath[paper] ?? 0) === 0)
      say(0, `give the bath's own ${paper} as well: it holds where the temperature is not told`);
    byTemperature.forEach((time, place) => {
      if (has[place] && time[paper]! <= (bath.drain ?? 0))
        say(
          place,
          `draining is part of the time, and ${paper} has only ${formatBathTime(time[paper]!)} in all`,
        );
    });
  }
  if (byTemperature.length > 0 && byTemperature.every(({ resinCoated, fibre }) => !resinCoated && !fibre))
    say(0, 'no paper has a time: give resinCoated or fibre, or both');
  return problems;
}

function tooManyTimes(baths: readonly ReadBath[]): FieldProblem[] {
  const count = baths.flatMap(({ byTemperature = [] }) => byTemperature).length;
  const message = `${count} times by temperature; a board keeps ${limits.bathPoints} of all baths together`;
  return count > limits.bathPoints ? [{ path: ['baths'], message }] : [];
}

/** Of one bath, from the coldest on. */
export function timesByTemperature({ label, byTemperature = [] }: ReadBath): TemperatureTime[] {
  return [...byTemperature]
    .sort((one, other) => one.at - other.at)
    .map(({ at, resinCoated = 0, fibre = 0 }) => ({
      ...{ label, trayC10: at, resinCoatedSeconds: resinCoated, fibreSeconds: fibre },
    }));
}

function byTemperature(label: string, times: readonly TemperatureTime[]): Pick<ReadBath, 'byTemperature'> {
  const own = times.filter((time) => time.label === label);
  if (own.length === 0) return {};
  return {
    byTemperature: own.map(({ trayC10, resinCoatedSeconds, fibreSeconds }) => ({
      ...{ at: trayC10, resinCoated: resinCoatedSeconds || undefined, fibre: fibreSeconds || undefined },
    })),
  };
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

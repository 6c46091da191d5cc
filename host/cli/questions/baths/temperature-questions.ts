/** The questions for times by the tray's temperature, and what `--set` may name in them. */
import { limits } from '../../../../shared-protocol/limits.js';
import { bathsFile } from '../../../recipe/baths/baths-file.js';
import {
  formatBathTime,
  formatDegreesC,
  type ReadBath,
  readTemperatureC10,
} from '../../../recipe/baths/index.js';
import { readField } from '../../../recipe/reading/read-field.js';
import { numberFromPlainKeys, timeFromPlainKeys } from '../../../recipe/text/plain-keys.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import { ask, type Interview, type Question } from '../question.js';
import { isNone, NONE } from '../wording.js';

type Points = NonNullable<ReadBath['byTemperature']>;
type Point = Points[number];
const PAPERS = ['resinCoated', 'fibre'] as const;
type Paper = (typeof PAPERS)[number];
const PAPER_WORDS: Record<Paper, string> = { resinCoated: 'resin-coated paper', fibre: 'fibre paper' };

const time = bathsFile.shape.baths.element.shape.byTemperature.unwrap().element.shape.fibre.unwrap();

/** A developer has them; another bath is asked for them where it has some already. */
export function isAskedForTemperatures(bath: ReadBath, isFirst: boolean): boolean {
  return isFirst || bath.byTemperature !== undefined;
}

/** Temperatures one after another, each with a time for every paper that goes into the bath, until there are no more. */
export function* askTemperatures(before: ReadBath, bath: ReadBath, index: number): Interview<ReadBath> {
  const known = before.byTemperature ?? [];
  const points: Point[] = [];
  for (let nth = 0; points.length < limits.bathPoints; nth++) {
    const at = yield* ask(temperatureQuestion(bath, index, nth, known, points));
    if (at === undefined && known[nth] === undefined) break;
    if (at === undefined) continue;
    points.push(yield* askPoint({ ...known[nth], at }, bath, `${index}.${nth}`));
  }
  return withPoints(bath, points);
}

function* askPoint(known: Point, bath: ReadBath, key: string): Interview<Point> {
  let point: Point = { at: known.at };
  for (const paper of PAPERS.filter((one) => (bath[one] ?? 0) !== 0))
    point = { ...point, [paper]: yield* ask(pointTimeQuestion(paper, known, bath, key)) };
  return point;
}

/** From the coldest on, as data sheets have them; none at all where there are none. */
function withPoints({ byTemperature: _, ...bath }: ReadBath, points: readonly Point[]): ReadBath {
  if (points.length === 0) return bath;
  return { ...bath, byTemperature: [...points].sort((one, other) => one.at - other.at) };
}

function temperatureQuestion(
  { label }: ReadBath,
  index: number,
  nth: number,
  known: readonly Point[],
  points: readonly Point[],
): Question<number | undefined> {
  const ready = known[nth];
  return {
    key: `${index}.${nth}.temperature`,
    ask: `'${label}', ${points.length === 0 ? 'a time at another temperature' : 'and at'}`,
    ready: ready === undefined ? NONE : formatDegreesC(ready.at),
    help:
      "A temperature that the data sheet has a time for: 20C, 20point5C or 68F. Two or more are needed; between them the board reckons, for the tray's temperature that the knob tells. The times above hold where it is not told. " +
      `'${NONE}' ${ready === undefined ? 'when there is no other' : 'takes it out'}.`,
    read: (answer) => readPointC10(answer, ready === undefined, points),
  };
}

function readPointC10(answer: string, isLast: boolean, points: readonly Point[]): number | undefined {
  if (isNone(answer)) {
    if (isLast && points.length === 1)
      throw new UnreadableText(
        'one temperature alone tells nothing of others; give a second one, or go back and take it out',
      );
    return undefined;
  }
  const c10 = readTemperatureC10(numberFromPlainKeys(answer));
  if (points.some(({ at }) => at === c10))
    throw new UnreadableText(`${formatDegreesC(c10)} is there already: give each temperature once`);
  return c10;
}

function pointTimeQuestion(
  paper: Paper,
  known: Point,
  bath: ReadBath,
  key: string,
): Question<number | undefined> {
  const at = formatDegreesC(known.at);
  const ready = known[paper] ?? bath[paper];
  return {
    key: `${key}.${paper}`,
    ask: `'${bath.label}' at ${at}, ${PAPER_WORDS[paper]}`,
    ready: ready === undefined ? undefined : formatBathTime(ready),
    help: `From the data sheet, draining included, with its unit: 90s, 1m30s.`,
    read: (answer) => readPointSeconds(answer, bath.drain ?? 0),
  };
}

function readPointSeconds(answer: string, drainSeconds: number): number {
  const seconds = readField(time, timeFromPlainKeys(answer));
  if (seconds > drainSeconds) return seconds;
  throw new UnreadableText(
    `draining is part of the time, and takes ${formatBathTime(drainSeconds)} of it; write a longer one`,
  );
}

/** '20C.fibre' or '20C' behind the bath's name; undefined where that names no temperature. */
export function temperatureSettable(
  bath: ReadBath,
  field: string,
): ((answer: string) => ReadBath) | undefined {
  const [, degrees, paper = ''] = /^([^.]*\d(?:[.,]\d)?\s*[cf])(?:\.(.+))?$/i.exec(field.trim()) ?? [];
  if (degrees === undefined) return undefined;
  const at = readTemperatureC10(degrees);
  const others = (bath.byTemperature ?? []).filter((point) => point.at !== at);
  const own = bath.byTemperature?.find((point) => point.at === at) ?? { at };
  const named = PAPERS.find((one) => one.toLowerCase() === paper.toLowerCase().replace(/[\s_-]/g, ''));
  return (answer) => {
    if (paper === '' && isNone(answer)) return withPoints(bath, others);
    if (named === undefined)
      throw new UnreadableText(
        `name the paper too, as ${bath.label}.${formatDegreesC(at)}.fibre or .resinCoated; '${NONE}' for the temperature alone takes it out`,
      );
    const seconds = isNone(answer) ? undefined : readField(time, timeFromPlainKeys(answer));
    return withPoints(bath, [...others, { ...own, [named]: seconds }]);
  };
}

/** '18C 3m, 20C 2m30s', for each paper that has them. */
export function temperatureWords({ byTemperature = [] }: ReadBath): string[] {
  return PAPERS.flatMap((paper) => {
    const times = byTemperature.flatMap(({ at, [paper]: seconds = 0 }) =>
      seconds === 0 ? [] : [`${formatDegreesC(at)} ${formatBathTime(seconds)}`],
    );
    return times.length === 0 ? [] : [`${PAPER_WORDS[paper]} at ${times.join(', ')}`];
  });
}

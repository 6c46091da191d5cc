import type { ExposureEntry } from '../log/log-entry.js';

/** What the picture reads of a logged exposure; `treadle log --json` has at least these. */
export type LoggedLight = Pick<
  ExposureEntry,
  | 'seq'
  | 'boot'
  | 'at'
  | 'kind'
  | 'recipe'
  | 'pass'
  | 'label'
  | 'filter'
  | 'plannedMs'
  | 'onMs'
  | 'doseMs'
  | 'outcome'
  | 'pauses'
> &
  Partial<Pick<ExposureEntry, 'board' | 'sheet'>>;

/** One sheet of paper, or the light for focusing before one: a row of the picture. */
export interface NightRow {
  readonly title: string;
  readonly kind: 'strip' | 'print' | 'focus';
  /** When its first light fell; undefined where no clock was known. */
  readonly startMs: number | undefined;
  readonly lights: readonly LoggedLight[];
  readonly onMs: number;
}

export interface NightTotals {
  readonly prints: number;
  readonly strips: number;
  /** Relay time of every light, focusing included: the lamp's age. */
  readonly lampMs: number;
  readonly paperMs: number;
  /** Lights that did not run to their end. */
  readonly cutShort: number;
}

/** The night by sheets, in the order of the log; lights of one sheet stand in one row. */
export function nightRows(lights: readonly LoggedLight[]): NightRow[] {
  const groups: { key: string; lights: LoggedLight[] }[] = [];
  for (const light of lights) {
    const key = rowKey(light);
    const last = groups.at(-1);
    if (last?.key === key) last.lights.push(light);
    else groups.push({ key, lights: [light] });
  }
  return groups.map((group) => rowOf(group.lights));
}

/** Where the log numbers no sheets, what was printed tells them apart as far as it can. */
function rowKey({ board = '', boot, sheet, kind, recipe }: LoggedLight): string {
  const what = kind === 'focus' ? 'focus' : kind === 'strip' ? 'strip' : 'print';
  return JSON.stringify([board, boot, what, sheet ?? recipe]);
}

function rowOf(lights: readonly LoggedLight[]): NightRow {
  const [first] = lights;
  const { kind, recipe, sheet } = first!;
  const what = kind === 'focus' ? 'focus' : kind === 'strip' ? 'strip' : 'print';
  const number = sheet === undefined || sheet === 0 || what === 'focus' ? '' : `sheet ${sheet}: `;
  const names = { focus: 'focusing', strip: 'test strip', print: recipe === '' ? 'print' : recipe };
  return {
    title: `${number}${names[what]}`,
    kind: what,
    startMs: first!.at === null ? undefined : Date.parse(first!.at),
    lights,
    onMs: lights.reduce((sum, light) => sum + light.onMs, 0),
  };
}

export function nightTotals(rows: readonly NightRow[]): NightTotals {
  const count = (kind: NightRow['kind']) => rows.filter((row) => row.kind === kind).length;
  const lights = rows.flatMap((row) => row.lights);
  const onPaper = lights.filter(({ kind }) => kind !== 'focus');
  return {
    prints: count('print'),
    strips: count('strip'),
    lampMs: lights.reduce((sum, { onMs }) => sum + onMs, 0),
    paperMs: onPaper.reduce((sum, { doseMs }) => sum + doseMs, 0),
    cutShort: onPaper.filter(({ outcome }) => outcome !== 'complete').length,
  };
}

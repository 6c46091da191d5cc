import type { ExposureEntry } from '../../records/log/log-entry.js';

/** What the picture reads of a logged exposure; `treadle nights --json` has at least these. */
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

type RowKind = 'strip' | 'bracket' | 'print' | 'lamp-test' | 'safelight-test' | 'stray-light-test' | 'focus';

/** What a light makes of the row that it stands in, most telling first. */
const rowKinds: Record<LoggedLight['kind'], RowKind> = {
  bracket: 'bracket',
  'lamp-test': 'lamp-test',
  strip: 'strip',
  base: 'print',
  burn: 'print',
  plain: 'print',
  safelight: 'safelight-test',
  stray: 'stray-light-test',
  focus: 'focus',
};

const rowNames: Record<RowKind, string> = {
  strip: 'test strip',
  bracket: 'bracket',
  print: 'print',
  'lamp-test': 'lamp test',
  'safelight-test': 'safelight test',
  'stray-light-test': 'stray light test',
  focus: 'focusing',
};

/** Light that takes minutes and puts no timed light on paper: it is not drawn to the scale of the others. */
export function isUnscaled({ kind }: Pick<LoggedLight, 'kind'>): boolean {
  return kind === 'focus';
}

/** One sheet of paper, or the light for focusing before one: a row of the picture. */
export interface NightRow {
  readonly title: string;
  readonly kind: RowKind;
  /** When its first light fell; undefined where no clock was known. */
  readonly startMs: number | undefined;
  readonly lights: readonly LoggedLight[];
}

export interface NightTotals {
  readonly prints: number;
  /** Brackets and tests as well. */
  readonly strips: number;
  /** Relay time of every light, focusing included: the lamp's age. */
  readonly lampMs: number;
  readonly paperMs: number;
  /** Lights that did not run to their end. */
  readonly cutShort: number;
}

/** The night by sheets, in the order of the log; lights of one sheet stand in one row. */
export function nightRows(lights: Iterable<LoggedLight>): NightRow[] {
  const rows = new RowsInTurn();
  return [...[...lights].flatMap((light) => rows.add(light)), ...rows.end()];
}

/** The same for lights that come one after another: a row is given out when the next begins, so that few are kept. */
export class RowsInTurn {
  #key = '';
  #lights: LoggedLight[] = [];

  add(light: LoggedLight): NightRow[] {
    const key = rowKey(light);
    const before = key === this.#key ? [] : this.end();
    this.#key = key;
    this.#lights.push(light);
    return before;
  }

  end(): NightRow[] {
    const row = this.#lights.length === 0 ? [] : [rowOf(this.#lights)];
    this.#lights = [];
    return row;
  }
}

/** Where the log numbers no sheets, what was printed tells them apart as far as it can. */
function rowKey({ board = '', boot, sheet, kind, recipe }: LoggedLight): string {
  const what = isUnscaled({ kind }) ? kind : 'paper';
  return JSON.stringify([board, boot, what, sheet ?? `${rowKinds[kind]} ${recipe}`]);
}

function rowOf(lights: readonly LoggedLight[]): NightRow {
  const [first] = lights;
  const { sheet, at } = first!;
  const kind = tellingKind(lights);
  const recipe = lights.find((light) => light.recipe !== '')?.recipe ?? '';
  const number = sheet === undefined || sheet === 0 || isUnscaled(first!) ? '' : `sheet ${sheet}: `;
  const name = kind === 'print' && recipe !== '' ? recipe : rowNames[kind];
  return { title: `${number}${name}`, kind, startMs: at === null ? undefined : Date.parse(at), lights };
}

function tellingKind(lights: readonly LoggedLight[]): RowKind {
  const inOrder = Object.entries(rowKinds) as [LoggedLight['kind'], RowKind][];
  return inOrder.find(([kind]) => lights.some((light) => light.kind === kind))![1];
}

export function nightTotals(rows: readonly NightRow[]): NightTotals {
  return rows.reduce(totalsWith, noTotals);
}

export const noTotals: NightTotals = { prints: 0, strips: 0, lampMs: 0, paperMs: 0, cutShort: 0 };

/** The totals with another row. */
export function totalsWith(totals: NightTotals, { kind, lights }: NightRow): NightTotals {
  const onPaper = lights.filter((light) => !isUnscaled(light));
  return {
    prints: totals.prints + (kind === 'print' ? 1 : 0),
    strips: totals.strips + (kind === 'print' || kind === 'focus' ? 0 : 1),
    lampMs: lights.reduce((sum, { onMs }) => sum + onMs, totals.lampMs),
    paperMs: onPaper.reduce((sum, { doseMs }) => sum + doseMs, totals.paperMs),
    cutShort: totals.cutShort + onPaper.filter(({ outcome }) => outcome !== 'complete').length,
  };
}

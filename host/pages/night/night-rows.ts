import type { EventEntry, ExposureEntry, LogEntry } from '../../records/log/log-entry.js';

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
  Partial<Pick<ExposureEntry, 'board' | 'log' | 'sheet'>>;

type RowKind =
  | 'strip'
  | 'bracket'
  | 'print'
  | 'lamp-test'
  | 'safelight-test'
  | 'stray-light-test'
  | 'focus'
  | 'checkup';

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
  checkup: 'checkup',
};

const rowNames: Record<RowKind, string> = {
  strip: 'test strip',
  bracket: 'bracket',
  print: 'print',
  'lamp-test': 'lamp test',
  'safelight-test': 'safelight test',
  'stray-light-test': 'stray light test',
  focus: 'focusing',
  checkup: 'checkup, relay alone',
};

/** What puts no timed light on paper, focusing and the checkup's clicks: it is not drawn to the scale of the others. */
export function isUnscaled({ kind }: Pick<LoggedLight, 'kind'>): boolean {
  return kind === 'focus' || kind === 'checkup';
}

/** One sheet of paper, or the light for focusing before one: a row of the picture. */
export interface NightRow {
  readonly title: string;
  readonly kind: RowKind;
  /** When its first light fell; undefined where no clock was known. */
  readonly startMs: number | undefined;
  readonly lights: readonly LoggedLight[];
  /** The sheet did not get all that it was to get. */
  readonly wasted: boolean;
  /** The log ends before the sheet does: nobody knows yet what becomes of it. */
  readonly underWay: boolean;
  /** The sheet of an earlier row, left there and gone on with here. */
  readonly continues: boolean;
}

export interface NightTotals {
  /** Sheets that were finished; one that was given up is wasted, and one that saw no light is none. */
  readonly prints: number;
  /** Brackets and tests as well. */
  readonly strips: number;
  readonly wasted: number;
  /** Sheets that were begun and have no end in the log yet. */
  readonly underWay: number;
  /** Relay time of every light, focusing included: the lamp's age. */
  readonly lampMs: number;
  readonly paperMs: number;
  /** Lights that did not run to their end. */
  readonly cutShort: number;
}

/** The night by sheets, in the order of the log; lights of one sheet stand in one row. */
export function nightRows(entries: Iterable<LoggedLight | SheetMark>): NightRow[] {
  const rows = new RowsInTurn();
  const told = [...entries].flatMap((entry) => {
    if (!isSheetMark(entry)) return rows.add(entry);
    rows.hear(entry);
    return [];
  });
  return [...told, ...rows.end()];
}

/** Where a sheet begins, and what became of it, as the log has it: its end, or that it was gone on with after one. */
export type SheetMark =
  | Pick<Extract<LogEntry, { kind: 'sheet-ended' }>, 'kind' | 'details'>
  | (Pick<Extract<LogEntry, { kind: 'sheet' | 'sheet-resumed' }>, 'kind' | 'details'> &
      Partial<Pick<EventEntry, 'endedByPower' | 'board' | 'boot'>>);

export function isSheetMark<Entry extends { readonly kind: string }>(
  entry: Entry,
): entry is Entry & { readonly kind: SheetMark['kind'] } {
  return entry.kind === 'sheet' || entry.kind === 'sheet-ended' || entry.kind === 'sheet-resumed';
}

/** The same for lights that come one after another: a row is given out when the next begins, so that few are kept. */
export class RowsInTurn {
  #key = '';
  #paperKey = '';
  #lights: LoggedLight[] = [];
  #ended: LoggedLight['outcome'] | undefined;
  /** Of the sheet that was begun or gone on with last, until its end is told. */
  #openKey = '';
  /** The next light on paper is of a sheet that was left; and the row under way began so. */
  #goesOn = false;
  #isGoneOn = false;
  /** Rows of sheets that the power ended, where the board did not log so afterwards. */
  readonly #cut = new Set<string>();

  add(light: LoggedLight): NightRow[] {
    if (isNone(light)) return [];
    const key = rowKey(light);
    const before = key === this.#key ? [] : this.#rowSoFar(false);
    this.#key = key;
    if (!isUnscaled(light)) {
      this.#isGoneOn ||= this.#goesOn && this.#paperKey !== '';
      this.#goesOn = false;
    }
    this.#lights.push(light);
    return before;
  }

  /** The log says what became of the sheet whose lights came last, also where focusing, or another run, came between. */
  hear(entry: SheetMark): void {
    if (entry.kind === 'sheet-ended') {
      this.#ended = entry.details.outcome;
      this.#openKey = '';
      return;
    }
    if (entry.kind === 'sheet-resumed') this.#goesOn = true;
    const { endedByPower, board = '', boot = 0, details } = entry;
    this.#openKey = paperKey(board, boot, details.sheet);
    if (endedByPower) this.#cut.add(this.#openKey);
  }

  /** The last row, when nothing more comes. */
  end(): NightRow[] {
    return this.#rowSoFar(true);
  }

  #rowSoFar(isLast: boolean): NightRow[] {
    const lights = this.#lights;
    if (lights.length === 0) return [];
    this.#lights = [];
    const ended = this.#ended ?? (this.#cut.has(this.#key) ? 'interrupted' : undefined);
    this.#ended = undefined;
    const isPaper = !isUnscaled(lights[0]!);
    const continues = isPaper && (this.#isGoneOn || this.#key === this.#paperKey);
    if (isPaper) this.#isGoneOn = false;
    if (isPaper) this.#paperKey = this.#key;
    const wasted = isPaper && isWasted(lights, ended);
    const underWay = isLast && ended === undefined && !wasted && this.#key === this.#openKey;
    return [{ ...rowOf(lights), wasted, underWay, continues }];
  }
}

/** The pedal was taken back before the lamp came on. */
function isNone({ onMs, outcome }: LoggedLight): boolean {
  return onMs === 0 && outcome === 'stopped';
}

/** Where the log does not say what became of the sheet, its lights do as far as they can. */
function isWasted(lights: readonly LoggedLight[], ended: LoggedLight['outcome'] | undefined): boolean {
  return ended === undefined ? lights.some(({ outcome }) => outcome !== 'complete') : ended !== 'complete';
}

/** Where the log numbers no sheets, what was printed tells them apart as far as it can. */
function rowKey({ board = '', boot, sheet, kind, recipe }: LoggedLight): string {
  if (isUnscaled({ kind })) return JSON.stringify([board, boot, kind, sheet]);
  return paperKey(board, boot, sheet ?? `${rowKinds[kind]} ${recipe}`);
}

function paperKey(board: string, boot: number, sheet: number | string): string {
  return JSON.stringify([board, boot, 'paper', sheet]);
}

function rowOf(lights: readonly LoggedLight[]): Omit<NightRow, 'wasted' | 'underWay' | 'continues'> {
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

export const noTotals: NightTotals = {
  prints: 0,
  strips: 0,
  wasted: 0,
  underWay: 0,
  lampMs: 0,
  paperMs: 0,
  cutShort: 0,
};

/** The totals with another row. */
export function totalsWith(totals: NightTotals, row: NightRow): NightTotals {
  const { kind, lights, wasted, underWay, continues } = row;
  const isFinished = !wasted && !underWay && !isUnscaled(lights[0]!);
  const onPaper = lights.filter((light) => !isUnscaled(light));
  return {
    prints: totals.prints + (isFinished && kind === 'print' ? 1 : 0),
    strips: totals.strips + (isFinished && kind !== 'print' ? 1 : 0),
    // Where it was left it was counted as wasted.
    wasted: totals.wasted + (wasted ? 1 : 0) - (continues ? 1 : 0),
    underWay: totals.underWay + (underWay ? 1 : 0),
    // At the checkup there was no lamp at the relay.
    lampMs: lights.reduce((sum, { kind, onMs }) => sum + (kind === 'checkup' ? 0 : onMs), totals.lampMs),
    paperMs: onPaper.reduce((sum, { doseMs }) => sum + doseMs, totals.paperMs),
    cutShort: totals.cutShort + onPaper.filter(({ outcome }) => outcome !== 'complete').length,
  };
}

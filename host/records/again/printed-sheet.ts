/** The sheets of a log, each with all the light that fell on it and what the recipe in use had been turned to. */

import type { SheetRemark } from '../archive/archive.js';
import { type EventEntry, type ExposureEntry, isExposure, type LogEntry } from '../log/log-entry.js';

type EntryOf<Kind extends EventEntry['kind']> = Extract<EventEntry, { readonly kind: Kind }>;
type DetailsOf<Kind extends EventEntry['kind']> = EntryOf<Kind>['details'];

/** A sheet of paper as the log has it. */
export interface PrintedSheet extends DetailsOf<'sheet'> {
  readonly board: string;
  readonly log: number;
  readonly boot: number;
  /** Of the record that begins it. */
  readonly seq: number;
  /** What was said of it, oldest first. */
  readonly remarks: readonly SheetRemark[];
  /** Both null where no laptop told the board the time. */
  readonly at: string | null;
  readonly night: string | null;
  readonly lights: readonly ExposureEntry[];
  /** What became of it; null where the log has no end of it and no later sheet, as of one that is still under way. */
  readonly ending: DetailsOf<'sheet-ended'>['outcome'] | null;
  /** What the knob had done to the recipe since the board had it from its shelf, in order; over power-off too. */
  readonly turns: readonly Turn[];
  /** Whole stops by which the lens was closed for this recipe since then, and the base made longer. */
  readonly stoppedDown: number;
}

/** A pass or a dodge that the knob turned, or what came of it kept as a version. */
export type Turn =
  | { readonly pass: number; readonly dodge: number; readonly stops120: number }
  | { readonly keptVersion: number };

/** One that the log may have more of. */
type SheetSoFar = Omit<PrintedSheet, 'lights' | 'ending'> & {
  lights: ExposureEntry[];
  ending: PrintedSheet['ending'];
};

/** The sheets in the order in which they were begun. */
export async function printedSheets(
  entries: AsyncIterable<LogEntry> | Iterable<LogEntry>,
): Promise<PrintedSheet[]> {
  const sheets = new SheetsOfLog();
  for await (const entry of entries) sheets.note(entry);
  return sheets.all;
}

/** Sheets as they come out of a log that is read entry by entry. */
export class SheetsOfLog {
  readonly #sheets: SheetSoFar[] = [];
  /** A recipe that was turned is still so after power-off, but not when the board's storage was wiped: that begins a new log. */
  readonly #inUse = new Map<string, RecipeInUse>();
  /** A sheet that the power was cut from is gone on with in a later run, under its number. */
  readonly #goneOn = new Map<string, SheetSoFar>();
  /** By its board, the first that may be gone on with. */
  readonly #from = new Map<string, number>();

  /** In the order in which they were begun. */
  get all(): PrintedSheet[] {
    return this.#sheets;
  }

  /** Some of the board's log was passed over, in which other sheets had light: what comes is for none of those before. */
  passOver(board: string): void {
    this.#from.set(board, this.#sheets.length);
  }

  note(entry: LogEntry): void {
    if (isExposure(entry)) {
      if (entry.kind !== 'focus') this.#sheetOf(entry, entry.sheet)?.lights.push(entry);
    } else if (entry.kind === 'sheet-resumed') this.#goOn(entry);
    else if (entry.kind === 'sheet-ended') this.#end(entry);
    else if (entry.kind === 'sheet') this.#begin(entry);
    else if (entry.kind === 'sheet-unused') dropUnused(this.#sheets, entry);
    else this.#recipeOf(entry).note(entry);
  }

  #begin({ board, log, boot, seq, at, night, details, remarks = [] }: EntryOf<'sheet'>): void {
    const before = this.#sheets.findLast((sheet) => sheet.board === board);
    if (before !== undefined) before.ending ??= 'interrupted';
    const place = { board, log, boot, seq, at, night };
    const inUse = this.#recipeOf({ board, log }).forSheet(details);
    this.#sheets.push({ ...details, ...place, remarks, lights: [], ending: null, ...inUse });
  }

  #goOn(entry: EntryOf<'sheet-resumed'>): void {
    const sheet = this.#latestOf(entry, entry.details.sheet);
    if (sheet === undefined) return;
    this.#goneOn.set(runAndSheet(entry, sheet.sheet), Object.assign(sheet, { ending: null }));
  }

  /** What the power ended is logged by the run after. */
  #end(entry: EntryOf<'sheet-ended'>): void {
    const { sheet: number, outcome } = entry.details;
    const sheet = this.#sheetOf(entry, number) ?? this.#latestOf(entry, number);
    if (sheet !== undefined) sheet.ending = outcome;
  }

  #sheetOf(entry: LogEntry, number: number): SheetSoFar | undefined {
    return (
      this.#sheets.findLast((sheet) => isOfRun(sheet, entry) && sheet.sheet === number) ??
      this.#goneOn.get(runAndSheet(entry, number))
    );
  }

  #latestOf({ board, log }: LogEntry, number: number): SheetSoFar | undefined {
    const at = this.#sheets.findLastIndex(
      (sheet) => sheet.board === board && sheet.log === log && sheet.sheet === number,
    );
    return at < (this.#from.get(board) ?? 0) ? undefined : this.#sheets[at];
  }

  #recipeOf({ board, log }: Pick<LogEntry, 'board' | 'log'>): RecipeInUse {
    const key = `${log} ${board}`;
    const inUse = this.#inUse.get(key) ?? new RecipeInUse();
    this.#inUse.set(key, inUse);
    return inUse;
  }
}

function runAndSheet({ board, log, boot }: Pick<LogEntry, 'board' | 'log' | 'boot'>, sheet: number): string {
  return JSON.stringify([board, log, boot, sheet]);
}

/** Its number is the next one's. */
function dropUnused(sheets: PrintedSheet[], unused: EntryOf<'sheet-unused'>): void {
  const { details } = unused;
  const at = sheets.findLastIndex((sheet) => isOfRun(sheet, unused) && sheet.sheet === details.sheet);
  if (at >= 0) sheets.splice(at, 1);
}

function isOfRun(sheet: PrintedSheet, { board, log, boot }: LogEntry): boolean {
  return sheet.board === board && sheet.log === log && sheet.boot === boot;
}

/** What a board's memory has of the recipe in use, as far as its log tells. */
class RecipeInUse {
  #name = '';
  #turns: Turn[] = [];
  #stoppedDown = 0;
  /** The base that a sheet would have now; undefined until something set it. */
  #baseMs: number | undefined;

  note(entry: EventEntry | Exclude<LogEntry, ExposureEntry>): void {
    switch (entry.kind) {
      case 'recipe-change':
        this.#turn(entry.details);
        break;
      case 'recipe-taken':
        this.#name = entry.details.recipe;
        this.#forget();
        break;
      case 'recipe-version':
        this.#take(entry.details.recipe);
        this.#turns.push({ keptVersion: entry.details.version });
        break;
      case 'stopped-down':
        this.#stoppedDown += entry.details.stops;
        this.#baseMs = entry.details.baseMs;
        break;
      case 'strip-reading':
        if (entry.details.doseMs > 0) this.#baseMs = entry.details.doseMs;
        break;
    }
  }

  /**
   * A base that nothing led to is that of a recipe which was taken from the shelf anew, without what was turned before:
   * boards of before do not say so.
   */
  forSheet({ recipe, baseMs }: DetailsOf<'sheet'>): Pick<PrintedSheet, 'turns' | 'stoppedDown'> {
    if (recipe === '') return { turns: [], stoppedDown: 0 };
    this.#take(recipe);
    if (this.#baseMs !== undefined && this.#baseMs !== baseMs) this.#forget();
    this.#baseMs = baseMs;
    return { turns: [...this.#turns], stoppedDown: this.#stoppedDown };
  }

  #turn({ recipe, what, pass, dodge, baseMs, stops120 }: DetailsOf<'recipe-change'>): void {
    this.#take(recipe);
    this.#baseMs = baseMs;
    if (what !== 'base') this.#turns.push({ pass, dodge, stops120 });
  }

  #take(name: string): void {
    if (name === this.#name || name === '') return;
    this.#name = name;
    this.#forget();
  }

  #forget(): void {
    this.#turns = [];
    this.#stoppedDown = 0;
    this.#baseMs = undefined;
  }
}

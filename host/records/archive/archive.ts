import type { LogRecord } from '../../board/link/log-record.js';
import { InputError } from '../../errors.js';
import type { BoardRecipe } from '../../recipe/board-recipe.js';
import type { Recipe } from '../../recipe/recipe.js';

/** A record as the archive keeps it. */
export interface ArchivedRecord extends LogRecord {
  readonly board: string;
  /** Rises when a board's numbering began anew. */
  readonly log: number;
  readonly schemaHash: string;
  /** When it was made, in milliseconds since 1970; null where no laptop told the board a usable time in that run. */
  readonly atMs: number | null;
  /** The evening that a person gave its run, where no laptop told the time. */
  readonly nightByHand?: string;
}

/** How a recipe came by: sent to a board, saved from one, or found on one when its log was collected. */
export type KeptHow = 'sent' | 'saved' | 'collected';

/** A recipe as it was once sent, saved or found. */
export interface KeptRecipe {
  readonly id: number;
  /** Shapes, notes and history as well, where it came from a laptop. */
  readonly recipe: BoardRecipe | Recipe;
  /** The same for equal recipes, and for no others. */
  readonly content: string;
  readonly how: KeptHow;
  /** The board it was on. */
  readonly board: string | null;
  /** That board's checksum of it, where it was told. */
  readonly bodyCrc: string | null;
  readonly keptMs: number;
}

export interface Keeping {
  /** Left out, it was sent. */
  readonly how?: KeptHow;
  readonly bodyCrc?: string;
}

/** What somebody thought of a print once it was dry. */
export interface Remark {
  readonly name: string;
  readonly version: number;
  /** The content that was printed, as `KeptRecipe` has it; null where nothing tells. */
  readonly content: string | null;
  /** 1 (waste) to 5 (this is the print). */
  readonly rating: number | null;
  readonly words: string;
  readonly writtenMs: number;
  /** The sheet that it is about; null for what is said of a recipe. */
  readonly sheet: SheetPlace | null;
}

/** Where the record stands that begins a sheet. */
export interface SheetPlace extends Run {
  readonly seq: number;
}

/** What somebody thought of one sheet. */
export type SheetRemark = Pick<Remark, 'rating' | 'words' | 'writtenMs'>;

/** What is known of a sheet beside its own records. */
export interface SheetNote {
  /** What somebody thought of it, oldest first; not there where nobody said anything. */
  readonly remarks?: readonly SheetRemark[];
  /** The board was without power, or started anew, before the sheet was finished or given up: no record says so. */
  readonly endedByPower?: true;
}

export interface SheetNotes {
  /** By the record that begins the sheet, or that says it is gone on with. */
  of(place: SheetPlace): SheetNote | undefined;
}

/** Where and when a sheet was begun; when it is null as a record's is. */
export interface PrintedSheet {
  readonly board: string;
  readonly atMs: number | null;
}

/** What there is of one recipe among the sheets. */
export interface PrintedRecipe {
  readonly name: string;
  readonly sheets: number;
  /** When the latest was begun; null where no clock tells of any. */
  readonly lastMs: number | null;
}

/** A board's run from one start to the next: what has one clock. */
export interface Run {
  readonly board: string;
  readonly log: number;
  readonly boot: number;
}

/** A run in which nobody told the board the time. */
export interface UndatedRun extends Run {
  /** Its place among those of its board, from 1 on; a run that was dated by hand keeps it. */
  readonly number: number;
}

export interface RecordFilter {
  readonly board?: string;
  /** The date of an evening (YYYY-MM-DD), or null for what has no date. */
  readonly night?: string | null;
  readonly run?: Run;
}

/** What there is of one night, from noon to noon, or of one run without a date. */
export interface NightCount {
  /** The date of its evening (YYYY-MM-DD); null for a run that has no date. */
  readonly night: string | null;
  /** Of its first and its last entry, in milliseconds since 1970, as far as clocks told. */
  readonly firstMs: number | null;
  readonly lastMs: number | null;
  readonly sheets: number;
  readonly exposures: number;
  readonly records: number;
  /** The run without a date, or those that were dated by hand and belong to this night. */
  readonly undated: readonly UndatedRun[];
}

/** One thing that was read or said of a paper in a developer; what it is, its reader knows (null where it is damaged). */
export interface KeptPaperReading {
  readonly paper: string;
  /** Empty where none was named. */
  readonly developer: string;
  readonly body: unknown;
  readonly keptMs: number;
}

/** What boards logged, which recipes were sent, and what became of the prints. All methods may throw ArchiveError. */
export interface ArchiveReader extends AsyncDisposable {
  /** Where it lies. */
  readonly file: string;
  /** Records in the order they were made, board by board; read as they are taken, so that memory stays bounded. */
  records(filter?: RecordFilter): AsyncIterable<ArchivedRecord>;
  /** The same, many at a time: quicker where there are very many. */
  recordPages(filter?: RecordFilter): AsyncIterable<readonly ArchivedRecord[]>;
  /** Of one board, what came after a record, in its order. */
  recordsAfter(place: SheetPlace): AsyncIterable<ArchivedRecord>;
  /** Of one board, what was noted of the recipe in use before a record, the latest first. */
  recipeMarksBefore(place: SheetPlace): AsyncIterable<ArchivedRecord>;
  /** The nights in their order, and last the runs that have no date. */
  nights(filter?: Pick<RecordFilter, 'board'>): AsyncIterable<NightCount>;
  /** The boards that anything was archived of. */
  boards(): Promise<string[]>;

  /** What the printer called boards when they were collected last, by their ids; those without a name are not there. */
  boardNames(): Promise<ReadonlyMap<string, string>>;

  /** The night of the latest entry that has a date, of one board or of all; undefined where there is none. */
  latestNight(filter?: Pick<RecordFilter, 'board'>): Promise<string | undefined>;
  /** Recipes that were sent, saved or found, oldest first; of one name, or all. */
  recipes(name?: string): Promise<KeptRecipe[]>;
  /** The recipes that sheets were printed by, the latest print first. */
  printedRecipes(): Promise<PrintedRecipe[]>;
  /** The nights in which sheets were printed by a recipe, or the runs without a date, the latest first. */
  nightsOf(recipe: string): Promise<Pick<RecordFilter, 'night' | 'run'>[]>;
  /** The latest sheet that was printed by a version of a recipe. */
  latestPrint(name: string, version: number): Promise<PrintedSheet | undefined>;
  /**
   * The records that begin sheets, or say that one is gone on with, which neither were finished nor given up in their run; of
   * the runs that have a part in that night, or of all.
   */
  sheetsEndedByPower(filter?: Pick<RecordFilter, 'night'>): Promise<SheetPlace[]>;
  /** Remarks on every version of every recipe, oldest first. */
  remarks(): Promise<Remark[]>;
  /** What was read of papers, oldest first; of one paper, or of all. */
  paperReadings(paper?: string): Promise<KeptPaperReading[]>;
  close(): Promise<void>;
}

/** An archive that may be written to. What a method has kept is on the disk when its promise is fulfilled. */
export interface Archive extends ArchiveReader {
  /** The number of a board's latest log, and the first sequence number that is not archived of it. */
  latestLog(board: string): Promise<{ readonly log: number; readonly nextSeq: number }>;
  /**
   * Keeps all of `records` or, if anything goes wrong, none, and has read them back when it is done. Records that are
   * there already are passed over; one that has changed in the file is put right. Answers with how many were new.
   * @throws NumberingBeganAnew when others bear their numbers.
   */
  keepRecords(
    board: string,
    log: number,
    records: readonly LogRecord[],
    itsSchemaHash?: string,
  ): Promise<number>;
  /** How many records from one number up to and with another stand in the archive, as somebody else would find it. */
  countHeld(board: string, log: number, fromSeq: number, uptoSeq: number): Promise<number>;
  /** Keeps a recipe as it was sent, saved or found. One that is the same as the latest of its name is kept once. */
  keepRecipe(recipe: BoardRecipe | Recipe, board: string | null, keeping?: Keeping): Promise<void>;
  /**
   * Gives a run that has no date the evening of one, or takes it back with null.
   * @throws NightOutOfOrder where the board's other runs say that it was not then.
   */
  dateByHand(run: Run, night: string | null): Promise<void>;
  /** Notes what the printer calls a board, or with an empty name that it has none. */
  nameBoard(board: string, name: string): Promise<void>;
  /** Adds a remark to a version of a recipe or to a sheet; earlier ones stay. */
  addRemark(remark: Omit<Remark, 'writtenMs'>): Promise<void>;
  /** Adds what was read or said of a paper, as JSON; what was before stays. */
  addPaperReading(reading: Omit<KeptPaperReading, 'keptMs'>): Promise<void>;
}

/** The record's number is taken by another record: the board's numbering began anew. */
export class NumberingBeganAnew extends Error {
  override readonly name = 'NumberingBeganAnew';
}

/** A board's runs came one after another: a date by hand that would turn them round is refused. */
export class NightOutOfOrder extends InputError {
  override readonly name = 'NightOutOfOrder';
}

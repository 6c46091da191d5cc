/** How recipes and remarks are read from the archive's file; see recipe-contents.ts for how they stand there. */
import type { BoardRecipe } from '../../recipe/board-recipe.js';
import type { KeptHow, KeptRecipe, PrintedRecipe, PrintedSheet, Remark, Run, SheetPlace } from './archive.js';
import { QUARTER_MS } from './quarters.js';
import { jsonOf, textColumn, textOf, wholeColumn } from './rows.js';

export interface RecipeRow {
  readonly id: number;
  readonly board: ArrayBuffer | null;
  readonly content: ArrayBuffer;
  readonly how: ArrayBuffer;
  readonly bodyCrc: ArrayBuffer | null;
  readonly keptMs: number;
  readonly body: ArrayBuffer | null;
}

const recipesWhere = (
  where: string,
) => `SELECT ${wholeColumn('id')}, ${textColumn('board')}, ${textColumn('content')},
  ${textColumn('how')}, ${textColumn('body_crc', 'bodyCrc')}, ${wholeColumn('kept_ms', 'keptMs')}, ${textColumn('body')}
  FROM recipe LEFT JOIN recipe_content ON recipe_content.hash = recipe.content
  ${where} ORDER BY id`;

export const recipesSql = recipesWhere('');
/** By the index of names: with thousands of recipes in the file one is as quick to find as with ten. */
export const recipesNamedSql = recipesWhere('WHERE recipe.name = :name');

/** One whose content is damaged in the file is left out. */
export function keptRecipeOf({ id, body, keptMs, ...row }: RecipeRow): KeptRecipe[] {
  const recipe = jsonOf(body) as BoardRecipe | undefined;
  if (recipe === undefined) return [];
  const how = textOf(row.how) as KeptHow;
  const [board, bodyCrc] = [textOf(row.board) ?? null, textOf(row.bodyCrc) ?? null];
  return [{ id, recipe, content: textOf(row.content) ?? '', how, board, bodyCrc, keptMs }];
}

export interface RemarkRow extends Pick<Remark, 'version' | 'rating' | 'writtenMs'> {
  readonly name: ArrayBuffer;
  readonly words: ArrayBuffer;
  readonly content: ArrayBuffer | null;
  readonly board: ArrayBuffer | null;
  readonly log: number | null;
  readonly boot: number | null;
  readonly seq: number | null;
}

export const remarksSql = `SELECT ${textColumn('name')}, ${wholeColumn('version')}, ${textColumn('content')},
  ${wholeColumn('rating')}, ${textColumn('words')}, ${wholeColumn('written_ms', 'writtenMs')},
  ${textColumn('board')}, ${wholeColumn('log')}, ${wholeColumn('boot')}, ${wholeColumn('seq')} FROM remark ORDER BY id`;

export function remarkOf({ board, log, boot, seq, ...row }: RemarkRow): Remark {
  const place = { board: textOf(board), log, boot, seq };
  return {
    ...row,
    sheet: isSheetPlace(place) ? place : null,
    name: textOf(row.name) ?? '',
    words: textOf(row.words) ?? '',
    content: textOf(row.content) ?? null,
  };
}

function isSheetPlace(place: { readonly [Key in keyof SheetPlace]: unknown }): place is SheetPlace {
  return typeof place.board === 'string' && [place.log, place.boot, place.seq].every(Number.isInteger);
}

export const latestPrintSql = `SELECT ${textColumn('board')}, ${wholeColumn('at_ms', 'atMs')} FROM printed
  WHERE recipe = :name AND version = :version
  ORDER BY at_ms IS NULL, printed.at_ms DESC, log DESC, seq DESC LIMIT 1`;

export const printedRecipesSql = `SELECT ${textColumn('recipe', 'name')}, count(*) AS sheets,
  ${wholeColumn('max(at_ms)', 'lastMs')} FROM printed GROUP BY recipe ORDER BY max(at_ms) DESC, recipe`;

export interface PrintedRecipeRow extends Omit<PrintedRecipe, 'name'> {
  readonly name: ArrayBuffer;
}

/** A run at a time: where a clock tells, by quarters of an hour, in which no night ends. */
export const runsOfRecipeSql = `SELECT ${textColumn('board')}, log, boot, ${wholeColumn('max(at_ms)', 'atMs')}
  FROM printed WHERE recipe = :name GROUP BY board, log, boot, CAST(at_ms AS INTEGER) / ${QUARTER_MS}
  ORDER BY max(at_ms) DESC, log DESC, boot DESC`;

export interface RunOfRecipeRow extends Pick<Run, 'log' | 'boot'> {
  readonly board: ArrayBuffer;
  readonly atMs: number | null;
}

export interface PrintRow {
  readonly board: ArrayBuffer;
  readonly atMs: number | null;
}

export function printOf({ board, atMs }: PrintRow): PrintedSheet {
  return { board: textOf(board) ?? '', atMs };
}

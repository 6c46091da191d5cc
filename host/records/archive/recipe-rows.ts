/** How recipes and remarks are read from the archive's file; see recipe-contents.ts for how they stand there. */
import type { BoardRecipe } from '../../recipe/board-recipe.js';
import type { KeptHow, KeptRecipe, PrintedSheet, Remark, SheetPlace } from './archive.js';
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

export const recipesSql = `SELECT ${wholeColumn('id')}, ${textColumn('board')}, ${textColumn('content')},
  ${textColumn('how')}, ${textColumn('body_crc', 'bodyCrc')}, ${wholeColumn('kept_ms', 'keptMs')}, ${textColumn('body')}
  FROM recipe LEFT JOIN recipe_content ON recipe_content.hash = recipe.content
  WHERE :name IS NULL OR recipe.name = :name ORDER BY id`;

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

/** Of a sheet's fields, boot, seq and uptime come first, then its number, what for, the recipe and the version. */
export const latestPrintSql = `SELECT ${textColumn('board')}, ${wholeColumn('at_ms', 'atMs')} FROM record
  WHERE type = 'sheet' AND json_valid(fields) AND json_extract(fields, '$[5]') = :name
  AND json_extract(fields, '$[6]') = :version ORDER BY at_ms IS NULL, record.at_ms DESC, log DESC, seq DESC LIMIT 1`;

export interface PrintRow {
  readonly board: ArrayBuffer;
  readonly atMs: number | null;
}

export function printOf({ board, atMs }: PrintRow): PrintedSheet {
  return { board: textOf(board) ?? '', atMs };
}

import { crc32Hex } from '../../../shared-protocol/crc32.js';
import type { LineOf } from '../../../shared-protocol/index.js';
import { linesOfRecipe, RecipePartsError, recipeFromParts } from '../../recipe/recipe-messages.js';
import { InvalidRequestError } from '../errors.js';
import type { AskOptions, Wish } from './answer-reader.js';
import type { Requests } from './requests.js';

export interface BoardDodge {
  readonly label: string;
  /** Below zero: less light, in 1/120 stop. */
  readonly stops120: number;
}

export interface BoardPass {
  readonly kind: 'base' | 'burn';
  readonly label: string;
  readonly filter: string;
  readonly stops120: number;
  readonly dodges: readonly BoardDodge[];
}

/** A recipe as a board keeps it. */
export interface BoardRecipe {
  /** Small letters, digits and hyphens, at most 20. */
  readonly name: string;
  readonly version: number;
  readonly title: string;
  readonly negative: string;
  readonly paper: string;
  readonly baseMs: number;
  /** The lens's f-number times ten; 0 if not told. */
  readonly aperture10: number;
  /** The enlargement times a thousand; 0 if not told. */
  readonly magnification1000: number;
  /** Tenths of a per cent less light for a paper that dries darker. */
  readonly dryDown10: number;
  readonly passes: readonly BoardPass[];
}

export interface UploadOptions {
  readonly signal?: AbortSignal;
  /** Told after each line that the board has taken. */
  readonly onProgress?: (linesDone: number, linesInAll: number) => void;
}

/** Where a line's checksum stands: 8 digits before the closing quote, bracket and newline. */
const CHECKSUM_FROM = -11;
const CHECKSUM_TO = -3;

/**
 * Sends a recipe: the board keeps all of it or, if anything goes wrong before the end, what it had before.
 * @throws RefusedError with the board's reason, BoardLostError; InvalidRequestError when it fits no board.
 */
export function uploadRecipe(
  requests: Requests,
  recipe: BoardRecipe,
  options: UploadOptions = {},
): Promise<void> {
  if (recipe.name === '') throw new InvalidRequestError('a recipe needs a name');
  const wishes: readonly Wish[] = linesOfRecipe(recipe);
  const ask: AskOptions = { signal: options.signal };
  return requests.inTurn(async () => {
    let checksums = '';
    for (const [index, wish] of wishes.entries()) {
      const { line } = await requests.ask(wish, ask);
      checksums += line.slice(CHECKSUM_FROM, CHECKSUM_TO);
      options.onProgress?.(index + 1, wishes.length + 1);
    }
    await requests.ask({ type: 'recipe-commit', whole: crc32Hex(checksums) }, ask);
    options.onProgress?.(wishes.length + 1, wishes.length + 1);
  });
}

/** Puts together the lines by which a board tells a recipe. Undefined when they do not make a whole one. */
export function recipeFromLines(lines: readonly LineOf<'recipe-get'>[]): BoardRecipe | undefined {
  try {
    const {
      columnHeightMm: _column,
      focalLengthMm: _focal,
      notes: _notes,
      history: _history,
      ...kept
    } = recipeFromParts(lines);
    return kept;
  } catch (error) {
    if (error instanceof RecipePartsError) return undefined;
    throw error;
  }
}

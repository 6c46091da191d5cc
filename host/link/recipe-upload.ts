import { crc32 } from 'node:zlib';
import type { Message, MessageOf } from '../../shared-protocol/index.js';
import { InvalidRequestError } from '../errors.js';
import type { AskOptions, Requests, Wish } from './requests.js';

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

/** The lines that upload a recipe, in order, without the commit. */
export function recipeWishes(recipe: BoardRecipe): Wish[] {
  const { name, passes } = recipe;
  return [
    { type: 'recipe-begin', name, passes: passes.length, dodges: dodgeCount(passes) },
    { type: 'recipe-text', which: 'title', value: recipe.title },
    { type: 'recipe-text', which: 'negative', value: recipe.negative },
    { type: 'recipe-text', which: 'paper', value: recipe.paper },
    {
      type: 'recipe-head',
      version: recipe.version,
      baseMs: recipe.baseMs,
      aperture10: recipe.aperture10,
      magnification1000: recipe.magnification1000,
      dryDown10: recipe.dryDown10,
    },
    ...passes.flatMap(passWishes),
  ];
}

function passWishes({ dodges, ...pass }: BoardPass, index: number): Wish[] {
  const { kind, label, filter, stops120 } = pass;
  return [
    { type: 'recipe-pass', pass: index + 1, kind, label, filter, stops120, dodges: dodges.length },
    ...dodges.map((dodge): Wish => ({ type: 'recipe-dodge', label: dodge.label, stops120: dodge.stops120 })),
  ];
}

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
  const wishes = recipeWishes(recipe);
  const ask: AskOptions = { signal: options.signal };
  return requests.inTurn(async () => {
    let checksums = '';
    for (const [index, wish] of wishes.entries()) {
      const { line } = await requests.ask(wish, ask);
      checksums += line.slice(CHECKSUM_FROM, CHECKSUM_TO);
      options.onProgress?.(index + 1, wishes.length + 1);
    }
    const whole = crc32(checksums).toString(16).padStart(8, '0');
    await requests.ask({ type: 'recipe-commit', whole }, ask);
    options.onProgress?.(wishes.length + 1, wishes.length + 1);
  });
}

/** Puts together the lines by which a board tells a recipe. Undefined when they are not all there. */
export function recipeFromLines(lines: readonly Message[]): BoardRecipe | undefined {
  const texts = { title: '', negative: '', paper: '' };
  const passes: (Omit<BoardPass, 'dodges'> & { dodges: BoardDodge[] })[] = [];
  let begin: MessageOf<'recipe-begin'> | undefined;
  let head: MessageOf<'recipe-head'> | undefined;
  for (const line of lines) {
    if (line.type === 'recipe-begin') begin = line;
    else if (line.type === 'recipe-text') texts[line.which] = line.value;
    else if (line.type === 'recipe-head') head = line;
    else if (line.type === 'recipe-pass') {
      const { kind, label, filter, stops120 } = line;
      passes.push({ kind, label, filter, stops120, dodges: [] });
    } else if (line.type === 'recipe-dodge')
      passes.at(-1)?.dodges.push({ label: line.label, stops120: line.stops120 });
  }
  if (!begin || !head || passes.length !== begin.passes || dodgeCount(passes) !== begin.dodges)
    return undefined;
  const { version, baseMs, aperture10, magnification1000, dryDown10 } = head;
  return { name: begin.name, version, ...texts, baseMs, aperture10, magnification1000, dryDown10, passes };
}

function dodgeCount(passes: readonly BoardPass[]): number {
  return passes.reduce((sum, pass) => sum + pass.dodges.length, 0);
}

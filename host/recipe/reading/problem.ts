import { InputError } from '../../errors.js';

/** One thing that is wrong with a file that people write, where, and what to do. */
export interface RecipeProblem {
  /** 'passes[0].dodges[1].stops'; empty for the file as a whole. */
  readonly path: string;
  /** What was given and what is allowed. */
  readonly message: string;
  /** From 1, where the place in the file is known. */
  readonly line?: number;
  readonly column?: number;
}

/** A problem whose place in the file is known. */
export type PlacedProblem = RecipeProblem & { readonly line: number; readonly column: number };

/** A file of a printer's own that cannot be used; every problem in it at once. */
export class FileError extends InputError {
  override readonly name: string = 'FileError';

  constructor(readonly problems: readonly RecipeProblem[]) {
    super(problems.map(problemText).join('\n'));
  }
}

/** A recipe file that cannot be used. */
export class RecipeError extends FileError {
  override readonly name = 'RecipeError';
}

/** 'line 4, column 7, passes[0].stops: ...' as far as the place is known. */
export function problemText({ path, message, line, column }: RecipeProblem): string {
  const place = line === undefined ? [] : [`line ${line}, column ${column}`];
  return [...place, ...(path === '' ? [] : [path])]
    .join(', ')
    .concat(place.length + path.length > 0 ? ': ' : '', message);
}

export type PathPart = string | number;

/** ['passes', 0, 'stops'] -> 'passes[0].stops'. */
export function pathText(path: readonly PathPart[]): string {
  return path
    .map((part, index) => (typeof part === 'number' ? `[${part}]` : index === 0 ? part : `.${part}`))
    .join('');
}

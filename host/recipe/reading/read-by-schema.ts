import { z } from 'zod';
import { type FieldProblem, fieldProblems, fieldWords } from './field-problems.js';
import { type JsonText, readJson } from './json-text.js';
import { anotherKind } from './kind-of-file.js';
import { FileError, type PlacedProblem } from './problem.js';

/**
 * Reads a file that people write: UTF-8 JSON by a schema. `more` finds what no schema can say of it.
 * @throws FileError with all problems at once, each with its path in the file and its line and column.
 */
export function readBySchema<Schema extends z.ZodType>(
  bytes: Uint8Array | string,
  schema: Schema,
  more: (file: z.output<Schema>) => readonly FieldProblem[] = () => [],
): z.output<Schema> {
  const json = readJson(bytes);
  if (!('locate' in json)) throw new FileError(json);
  const other = schema instanceof z.ZodObject ? anotherKind(json.value, schema.shape) : [];
  if (other.length > 0) throw new FileError(placed(json, other));
  const read = schema.safeParse(json.value, { error: fieldWords });
  const problems = read.success ? more(read.data) : fieldProblems(read.error, json.value);
  if (!read.success || problems.length > 0) throw new FileError(placed(json, problems));
  return read.data;
}

/** The problems with their places, in the order of the file. */
export function placed(json: JsonText, problems: readonly FieldProblem[]): PlacedProblem[] {
  return problems
    .map(({ path, message }) => json.locate(path, message))
    .sort((one, other) => one.line - other.line || one.column - other.column);
}

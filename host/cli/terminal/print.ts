import { jsonText } from '../../json-text.js';

/** One piece of text on standard output, with the line feed that ends it. */
export function print(text: string): void {
  process.stdout.write(`${text}\n`);
}

/** Data for scripts: one JSON document, or one line of many. */
export function printJson(value: unknown): void {
  print(jsonText(value));
}

/** Words for the person only, so that standard output stays what a script reads. */
export function remark(text: string): void {
  process.stderr.write(`${text}\n`);
}

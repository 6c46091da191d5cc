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

/** So much is written at once: each write costs, and a whole log is never in memory. */
const WRITTEN_CHARS = 65_536;

/** Text that comes piece by piece, as fast as somebody takes it. */
export async function printPieces(pieces: AsyncIterable<string>): Promise<void> {
  let waiting = '';
  for await (const piece of pieces) {
    waiting += piece;
    if (waiting.length < WRITTEN_CHARS) continue;
    await write(waiting);
    waiting = '';
  }
  await write(waiting);
}

/** Done when the text was taken; where it cannot be, the program ends elsewhere. */
function write(text: string): Promise<void> {
  return new Promise((resolve) => {
    if (process.stdout.write(text)) resolve();
    else process.stdout.once('drain', resolve);
  });
}

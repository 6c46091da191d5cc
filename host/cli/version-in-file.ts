import { applyEdits, modify } from 'jsonc-parser';
import { readWholeFile, STANDARD_INPUT } from '../files/read-file.js';
import { writeWholeFile } from '../files/write-file.js';
import { mostFileBytes, type Recipe, readRecipe } from '../recipe/index.js';
import { remark } from './terminal/print.js';

/**
 * Writes the number that a recipe got into its file, where nothing else of it is touched: the next time that it is sent it
 * is known for what it is. Where the file cannot be written, the printer is told to.
 */
export async function writeVersionInFile(path: string, { version }: Recipe): Promise<void> {
  if (path !== STANDARD_INPUT && (await isWritten(path, version)))
    remark(`${path} now says version ${version}.`);
  else remark(`Write version ${version} into the recipe file, so that it is known the next time.`);
}

async function isWritten(path: string, version: number): Promise<boolean> {
  try {
    const was = await readWholeFile(path, mostFileBytes);
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(was);
    const options = { formattingOptions: style(text), getInsertionIndex: afterTitle };
    const changed = applyEdits(text, modify(text, ['version'], version, options));
    if (readRecipe(new TextEncoder().encode(changed)).version !== version) return false;
    await writeWholeFile(path, changed, { over: true, was });
    return true;
  } catch {
    return false;
  }
}

function afterTitle(fields: string[]): number {
  return fields.indexOf('title') + 1;
}

function style(text: string): { insertSpaces: boolean; tabSize: number; eol: string } {
  return { insertSpaces: !/^\t/m.test(text), tabSize: 2, eol: text.includes('\r\n') ? '\r\n' : '\n' };
}

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';

const sources = new Map<string, string[]>();

/** The text of a line, counted from 1. */
export function lineOf({ file, line }: { readonly file: string; readonly line: number }): string {
  const lines = sources.get(file) ?? readFileSync(join(projectRoot, file), 'utf8').split('\n');
  sources.set(file, lines);
  return lines[line - 1] ?? '';
}

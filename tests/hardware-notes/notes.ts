import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';

export const notesFolder = join(projectRoot, 'hardware-notes');
export const pinsHeader = join(projectRoot, 'firmware', 'board', 'rp2040', 'port', 'pins.h');

export function note(name: string): string {
  return readFileSync(join(notesFolder, name), 'utf8');
}

/** A file of the firmware's core, by its path there. */
export function coreSource(path: string): string {
  return readFileSync(join(projectRoot, 'firmware', 'core', path), 'utf8');
}

export function noteNames(extension: string): string[] {
  return readdirSync(notesFolder).filter((name) => name.endsWith(extension));
}

/** The cells of the body of the Markdown table whose header line begins with `firstHeading`. */
export function tableOf(noteName: string, firstHeading: string): string[][] {
  const lines = note(noteName).split('\n');
  const head = lines.findIndex((line) => line.startsWith('|') && cells(line)[0] === firstHeading);
  if (head < 0) throw new Error(`${noteName} has no table that begins with "${firstHeading}"`);
  const body = lines.slice(head + 2);
  const end = body.findIndex((line) => !line.startsWith('|'));
  return body.slice(0, end < 0 ? undefined : end).map(cells);
}

function cells(line: string): string[] {
  return line
    .split('|')
    .slice(1, -1)
    .map((cell) => cell.trim());
}

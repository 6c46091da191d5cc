import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';

export const notesFolder = join(projectRoot, 'hardware-notes');
export const pinsHeader = join(projectRoot, 'firmware', 'board', 'rp2040', 'port', 'pins.h');

export function note(name: string): string {
  return readFileSync(join(notesFolder, name), 'utf8');
}

/** What the firmware sets on each pin's pad at its start, by the names of pins.h: pull-up, pull-down or none. */
export function padPulls(): Map<string, string> {
  const whole = readFileSync(join(projectRoot, 'firmware', 'board', 'rp2040', 'pins.c'), 'utf8');
  // What only some boards have is on the board itself, and nothing is wired to it.
  const source = whole.replace(/^#ifdef[\s\S]*?^#endif/gm, '');
  const pull = (name: string) =>
    name === '0' ? 'none' : name.replace('PAD_', '').replace('_', '-').toLowerCase();
  const pads = [...source.matchAll(/use_pin\((\w+), \w+, (\w+)\)/g)].map(
    ([, pin, name]) => [pin!, pull(name!)] as const,
  );
  const ofRelays = new Map(pads).get('gpio')!;
  const relays = [...source.matchAll(/use_relay\((PIN_\w+)\)/g)].map(([, pin]) => [pin!, ofRelays] as const);
  return new Map([...pads, ...relays].filter(([pin]) => pin.startsWith('PIN_')));
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

/** The cells of the body of the first table under a heading. */
export function tableUnder(noteName: string, heading: string): string[][] {
  const lines = note(noteName).split('\n');
  const under = lines.slice(lines.findIndex((line) => line.startsWith('#') && line.includes(heading)) + 1);
  const body = under.slice(under.findIndex((line) => line.startsWith('|')) + 2);
  return body
    .slice(
      0,
      body.findIndex((line) => !line.startsWith('|')),
    )
    .map(cells);
}

function cells(line: string): string[] {
  return line
    .split('|')
    .slice(1, -1)
    .map((cell) => cell.trim());
}

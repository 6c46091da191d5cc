import { readFileSync } from 'node:fs';

/** From dist/host/cli as from dist/library/js. */
const file = new URL('../../../hardware-notes/99-treadle.rules', import.meta.url);

/** The rule for Linux that keeps modem services off a board and says who may open it; how to install it stands in its head. */
export function udevRule(): string {
  return readFileSync(file, 'utf8');
}

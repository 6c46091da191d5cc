/** Offers the core's framer a line with every bit turned over in turn: none may be taken. */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { coreFramer } from '../fuzz/core-framer.js';
import { longestLine } from '../fuzz/random-message.js';

const { values } = parseArgs({ options: { core: { type: 'string' } } });
const framer = coreFramer(new WebAssembly.Module(readFileSync(values.core ?? '')));
const line = longestLine();
for (let bit = 0; bit < line.length * 8 - 8; bit++) {
  const damage = new Uint8Array(line.length);
  damage[bit >> 3] = 1 << (bit & 7);
  if (framer.linesTaken(line, damage) === 0) continue;
  console.log(`the core took a line with bit ${bit} turned over`);
  process.exitCode = 1;
  break;
}

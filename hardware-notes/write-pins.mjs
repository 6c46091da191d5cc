/**
 * Writes pins.md from the header that the firmware is compiled with, so that the table cannot drift from it.
 *
 *   node hardware-notes/write-pins.mjs            writes pins.md
 *   node hardware-notes/write-pins.mjs --check    exit code 1 if pins.md is not what it would write
 */
import { readFileSync, writeFileSync } from 'node:fs';

const header = new URL('../firmware/board/rp2040/port/pins.h', import.meta.url);
const table = new URL('./pins.md', import.meta.url);

/** The chip has 30 user GPIOs, 0 to 29 (RP2040 datasheet section 2.19). */
const lastGpio = 29;

const pinLine = /^#define (?<name>PIN_[A-Z0-9_]+) +(?<gpio>\d+) +\/\* (?<meaning>.+) \*\/$/;

/** The pins in the header's order; an error quotes the line that is not `#define PIN_X n` and a comment. */
function readPins(text) {
  const pins = [];
  for (const line of text.split('\n')) {
    if (!line.startsWith('#define PIN_')) continue;
    const found = pinLine.exec(line)?.groups;
    if (!found) throw new Error(`pins.h: expected "#define PIN_X n /* meaning */", found "${line}"`);
    pins.push({ name: found.name, gpio: Number(found.gpio), meaning: found.meaning });
  }
  refuseImpossible(pins);
  return pins;
}

function refuseImpossible(pins) {
  if (pins.length === 0) throw new Error('pins.h: no "#define PIN_" line found');
  for (const { name, gpio } of pins) {
    if (gpio > lastGpio) throw new Error(`pins.h: ${name} is GPIO ${gpio}; the chip has 0 to ${lastGpio}`);
    const twin = pins.find((other) => other.gpio === gpio && other.name !== name);
    if (twin) throw new Error(`pins.h: ${name} and ${twin.name} both claim GPIO ${gpio}`);
  }
}

/** A Markdown table row with its cells padded, as the formatter wants it. */
function row([gpio, name, meaning], [gpioWidth, nameWidth, meaningWidth]) {
  return `| ${gpio.padStart(gpioWidth)} | ${name.padEnd(nameWidth)} | ${meaning.padEnd(meaningWidth)} |`;
}

function render(pins) {
  const cells = pins
    .toSorted((one, other) => one.gpio - other.gpio)
    .map(({ name, gpio, meaning }) => [`${gpio}`, `\`${name}\``, meaning.replaceAll('|', '\\|')]);
  const all = [['GPIO', 'In the firmware', 'Direction and meaning'], ...cells];
  const widths = [0, 1, 2].map((column) => Math.max(...all.map((line) => line[column].length)));
  const rule = ['-'.repeat(widths[0] - 1), '-'.repeat(widths[1]), '-'.repeat(widths[2])];
  return `<!-- Written by write-pins.mjs from firmware/board/rp2040/port/pins.h. Change it there. -->
# Pins

Numbers are the chip's GPIO numbers, as boards print them (GP2, IO2 or D2, by maker), not positions along the edge.
Everything here is 3.3 V; the pins do not bear 5 V. How each is wired: [wiring.md](wiring.md).

${row(all[0], widths)}
| ${rule[0]}: | ${rule[1]} | ${rule[2]} |
${cells.map((line) => row(line, widths)).join('\n')}
`;
}

function main() {
  const wanted = render(readPins(readFileSync(header, 'utf8')));
  if (!process.argv.includes('--check')) {
    writeFileSync(table, wanted);
  } else if (readFileSync(table, 'utf8') !== wanted) {
    throw new Error('pins.md does not match pins.h; run: node hardware-notes/write-pins.mjs');
  }
}

try {
  main();
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}

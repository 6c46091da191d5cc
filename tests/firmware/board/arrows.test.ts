import { execFileSync, spawnSync } from 'node:child_process';
import { appendFileSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';

const board = join(projectRoot, 'firmware/board');

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-arrows-'));
});

afterEach(() => rmSync(folder, { recursive: true }));

describe("the includes of the board's files", () => {
  beforeEach(() => cpSync(board, folder, { recursive: true }));

  /** What the check says of the board's folder with a few lines added. */
  function complaint(additions: Record<string, string> = {}): string {
    for (const [path, text] of Object.entries(additions)) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      appendFileSync(join(folder, path), text);
    }
    return spawnSync(process.execPath, [join(board, 'build/check-includes.mjs'), folder], {
      encoding: 'utf8',
    }).stderr;
  }

  test('have no circle and keep their direction', () => {
    expect(complaint()).toBe('');
  });

  test('are refused in a circle, whose files are named', () => {
    expect(
      complaint({
        'devices/tone.h': '#include "display_light.h"\n',
        'devices/display_light.c': '#include "tone.h"\n',
      }),
    ).toBe(
      "firmware/board: the board's files include each other in a circle: devices/display_light > devices/tone > devices/display_light\n",
    );
  });

  test.each([
    ['a device', 'devices/tone.c', 'rp2040/registers.h'],
    ['the glue', 'glue/events.c', 'rp2040/registers.h'],
    ['a device', 'devices/tone.c', 'glue/events.h'],
    ['the chip', 'rp2040/uart.c', 'devices/serial.h'],
    ['what a chip offers', 'chip/uart.h', 'devices/serial.h'],
    ["the core's home", 'runtime/runtime.c', 'glue/events.h'],
  ])('are refused against the direction: %s, in %s, that reaches for %s', (_who, path, header) => {
    expect(complaint({ [path]: `#include "${header}"\n` })).toContain(
      `${path} includes ${header}, against the board's direction`,
    );
  });

  test('do not let one chip lean on another', () => {
    expect(
      complaint({
        'second/chip.mjs': 'export default {};\n',
        'second/uart.c': '#include "rp2040/registers.h"\n',
      }),
    ).toContain("second/uart.c includes rp2040/registers.h, against the board's direction");
  });

  test('bring no register into a device by way of the chip', () => {
    expect(complaint({ 'devices/lamp.c': 'void sneak(void) { SIO_GPIO_OUT_SET = 4; }\n' })).toBe(
      "firmware/board: devices/lamp.c names the register SIO_GPIO_OUT_SET; only a chip's own folder may\n",
    );
  });
});

describe.runIf(boardTestsRun)('the symbols of the image', () => {
  /** What the report says of objects made from these sources, by `folder.file`. */
  function problems(sources: Record<string, string>): string[] {
    for (const [object, text] of Object.entries(sources)) {
      const source = join(folder, `${object}.c`);
      writeFileSync(source, text);
      execFileSync('arm-none-eabi-gcc', ['-c', source, '-o', join(folder, `${object}.o`)]);
    }
    const asked = `
      import chip from ${JSON.stringify(join(board, 'rp2040/chip.mjs'))};
      import { findSymbolProblems } from ${JSON.stringify(join(board, 'build/symbols.mjs'))};
      console.log(JSON.stringify(findSymbolProblems({ name: 'rp2040', ...chip }, ${JSON.stringify(folder)})));`;
    return JSON.parse(
      execFileSync(process.execPath, ['--input-type=module', '-e', asked], { encoding: 'utf8' }),
    );
  }

  test('may go down, and from the chip to main', () => {
    expect(
      problems({
        'rp2040.start': 'int main(void); void reset(void) { main(); }',
        'glue.main': 'void lamp_off(void); int main(void) { lamp_off(); return 0; }',
        'devices.lamp': 'void pin_low(void); void lamp_off(void) { pin_low(); }',
        'rp2040.pins': 'void pin_low(void) {}',
      }),
    ).toEqual([]);
  });

  test('are refused upwards and in a circle, without a header in common', () => {
    expect(
      problems({
        'devices.lamp': 'void pin_low(void); void lamp_off(void) { pin_low(); }',
        'rp2040.pins': 'void lamp_off(void); void pin_low(void) { lamp_off(); }',
      }),
    ).toEqual([
      "rp2040.pins uses lamp_off of devices.lamp, against the board's direction.",
      "The board's objects need each other in a circle: devices.lamp > rp2040.pins > devices.lamp.",
    ]);
  });

  test('of the image as it is are in order', () => {
    const report = JSON.parse(readFileSync(join(buildImage().folder, 'report.json'), 'utf8'));
    expect(report.problems).toEqual([]);
  });
});

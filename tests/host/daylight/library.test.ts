import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';

/** Runs a line of ESM as somebody who uses the package would, and answers what it prints. */
function run(line: string): string {
  return execFileSync(process.execPath, ['--input-type=module', '-e', line], {
    cwd: projectRoot,
    encoding: 'utf8',
  }).trim();
}

describe('the package', () => {
  it('offers the daylight’s functions by name', () => {
    expect(
      run("import { magnificationFactor } from 'treadle/daylight'; console.log(magnificationFactor(2, 5))"),
    ).toBe('4');
  });

  it('offers the virtual darkroom by name', () => {
    const line =
      "import { boathouseNegative } from 'treadle/darkroom'; console.log(boathouseNegative(8).width)";
    expect(run(line)).toBe('12');
  });

  it.each([
    ['daylight', false],
    ['darkroom', true],
  ])('loads the native picture library for %s: %s', (entrance, loads) => {
    const line =
      `await import('treadle/${entrance}'); ` +
      'const loaded = process.report.getReport().sharedObjects; ' +
      'console.log(loaded.some((file) => /sharp|vips|libsql|serialport/.test(file)))';
    expect(run(line)).toBe(String(loads));
  });
});

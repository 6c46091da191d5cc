import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { projectRoot } from '../../shared-protocol/project.js';

/** Runs a line of ESM as somebody who uses the package would, and answers what it prints. */
function run(line: string): string {
  return execFileSync(process.execPath, ['--input-type=module', '-e', line], {
    cwd: projectRoot,
    encoding: 'utf8',
  }).trim();
}

describe('the package', () => {
  it.each([
    ['treadle', "readTime('12.5s')", '12500'],
    ['treadle/archive', 'typeof openArchive', 'function'],
    ['treadle/board', 'limits.lineBytes', '240'],
    ['treadle/daylight', 'magnificationFactor(2, 5)', '4'],
    ['treadle/pages', 'typeof printingMapSvg', 'function'],
    ['treadle/pictures', 'boathouseNegative(8).width', '12'],
    ['treadle/sim', 'new SimulatedBoard().powered', 'true'],
  ])('offers %s by name, and loads no native library for it', (subpath, expression, answer) => {
    const name = /\b(?!typeof|new)[a-zA-Z]\w*/.exec(expression)![0];
    const line =
      `import { ${name} } from '${subpath}'; ` +
      `const answer = ${expression}; ` +
      'const loaded = process.report.getReport().sharedObjects; ' +
      'console.log(answer, loaded.some((file) => /sharp|vips|libsql|serialport|node-pty/.test(file)))';
    expect(run(line)).toBe(`${answer} false`);
  });
});

import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';
import { openTrouble } from '../../../host/board/link/serial-trouble.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { treadle } from './treadle.js';

// Whoever had the package alone was sent to a file that is not in it.
it('the rule for Linux is printed by the command that the trouble with a port names', async () => {
  const words = openTrouble('/dev/ttyACM0', new Error('Permission denied'), 'linux').message;
  const named = /'treadle (ports --rule)'/.exec(words)![1]!;
  const ran = await treadle(named.split(' '));
  expect(ran).toMatchObject({ code: 0, err: '' });
  expect(ran.out).toBe(readFileSync(`${projectRoot}/hardware-notes/99-treadle.rules`, 'utf8'));
  expect(openTrouble('/dev/ttyACM0', new Error('Cannot lock port'), 'linux').message).toContain(named);
});

// execvp(3) says EACCES where any folder of PATH cannot be searched; a file that may not be run says it to everybody.
it.runIf(process.platform === 'linux')('ports are listed where udev may not be asked', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-no-udev-'));
  writeFileSync(join(folder, 'udevadm'), '', { mode: 0o644 });
  const words = [join(projectRoot, 'dist/host/cli/main.js'), 'ports', '--json'];
  const ran = await promisify(execFile)(process.execPath, words, { env: { ...process.env, PATH: folder } });
  rmSync(folder, { recursive: true });
  expect(Array.isArray(JSON.parse(ran.stdout))).toBe(true);
});

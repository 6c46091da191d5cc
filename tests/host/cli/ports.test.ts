import { readFileSync } from 'node:fs';
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

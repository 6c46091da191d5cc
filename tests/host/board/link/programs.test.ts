import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { openBoard } from '../../../../host/board/link/open-board.js';
import { offerPort } from '../../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';

const program = (name: string) => fileURLToPath(new URL(`programs/${name}`, import.meta.url));

describe('a program with the library', () => {
  it('talks to a simulated board where no native module loads, and is told what does not work', () => {
    const said = execFileSync(process.execPath, [program('without-native-modules.mjs')], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    const [state, port, ports, archive, scan, terminal] = JSON.parse(said) as string[];
    expect(state).toBe('rest');
    expect(port).toMatch(/^SerialUnavailableError: .*'serialport' did not load \(no native part.*npm ci/);
    expect(ports).toMatch(/^SerialUnavailableError/);
    expect(archive).toMatch(/^ArchiveError: .*'libsql' did not load/);
    expect(scan).toMatch(
      /^PackageUnavailableError: pictures .*'sharp' did not load \(no native part.*install it/,
    );
    expect(terminal).toMatch(/^PackageUnavailableError: a port of .*'@lydell\/node-pty' did not load/);
  });

  it.skipIf(process.platform === 'win32').each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)(
    'closes the port when it is ended by %s, and still ends by it',
    async (signal) => {
      const board = new SimulatedBoard({ speed: 1 });
      const port = await offerPort(board.plug());
      const holder = spawn(process.execPath, [program('hold-port.mjs'), port.path], {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      let said = '';
      holder.stdout.setEncoding('utf8');
      for await (const text of holder.stdout) {
        said += text;
        if (said === 'open\n') holder.kill(signal);
      }
      if (holder.exitCode === null && holder.signalCode === null) await once(holder, 'exit');
      expect(said).toBe('open\nclosed\n');
      expect(holder.signalCode).toBe(signal);
      const again = await openBoard(port.path);
      expect((await again.status()).state).toBe('rest');
      await again.close();
      port.close();
      board.close();
    },
  );
});

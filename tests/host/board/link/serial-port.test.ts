import { SerialPort } from 'serialport';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { PortNotFoundError } from '../../../../host/board/errors.js';
import { listPorts, openSerialPort } from '../../../../host/board/link/serial-port.js';

const undo: (() => void)[] = [];
afterEach(() => {
  for (const step of undo.splice(0)) step();
});

/** What the operating system says in place of its list. */
function listFailsBy(code: string): void {
  const error = Object.assign(new Error(`spawn udevadm ${code}`), { code });
  const list = vi.spyOn(SerialPort, 'list').mockRejectedValue(error);
  undo.push(() => list.mockRestore());
}

describe('the ports of this computer', () => {
  it.skipIf(process.platform === 'win32')('one that is not there is told as that', async () => {
    await expect(openSerialPort('/dev/not-there')).rejects.toBeInstanceOf(PortNotFoundError);
  });

  it.skipIf(process.platform !== 'linux')('are listed where nothing knows of udev', async () => {
    listFailsBy('ENOENT');
    for (const { path } of await listPorts()) expect(path).toMatch(/^\/dev\/tty/);
  });

  // As none they were taken for a computer without ports, and the cable was blamed.
  it('that cannot be listed are not taken for none', async () => {
    listFailsBy('EMFILE');
    await expect(listPorts()).rejects.toThrow('EMFILE');
  });
});

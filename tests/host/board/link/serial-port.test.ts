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

function onPlatform(platform: NodeJS.Platform): void {
  const own = Object.getOwnPropertyDescriptor(process, 'platform')!;
  Object.defineProperty(process, 'platform', { ...own, value: platform });
  undo.push(() => Object.defineProperty(process, 'platform', own));
}

describe('the ports of another system', () => {
  it.each([
    ['darwin', '/dev/tty.usbmodem1', '/dev/cu.usbmodem1'],
    ['darwin', '/dev/cu.usbmodem1', '/dev/cu.usbmodem1'],
    ['win32', 'COM3', 'COM3'],
    ['linux', '/dev/ttyACM0', '/dev/ttyACM0'],
  ] as const)('are called as they can be opened there: %s, %s', async (platform, told, path) => {
    const facts = { manufacturer: 'a', serialNumber: 'b', vendorId: 'c', productId: 'd' };
    const list = vi
      .spyOn(SerialPort, 'list')
      .mockResolvedValue([{ ...facts, path: told, pnpId: undefined, locationId: undefined }]);
    undo.push(() => list.mockRestore());
    onPlatform(platform);
    expect(await listPorts()).toEqual([{ ...facts, path }]);
  });

  it.each(['darwin', 'win32'] as const)(
    'are not looked for in a folder that only Linux has: %s',
    async (platform) => {
      listFailsBy('ENOENT');
      onPlatform(platform);
      await expect(listPorts()).rejects.toThrow('ENOENT');
    },
  );
});

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

import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  PortBusyError,
  PortFailedError,
  PortNotFoundError,
  PortPermissionError,
} from '../../../../host/board/errors.js';
import { noPortAdvice } from '../../../../host/board/link/no-port-advice.js';
import { openTrouble } from '../../../../host/board/link/serial-trouble.js';

// What the bindings of serialport 13 say, by platform (read in their sources and seen on Linux).
const cases: [NodeJS.Platform, string, unknown, RegExp][] = [
  ['linux', 'Error: No such file or directory, cannot open /dev/x', PortNotFoundError, /plugged in/],
  [
    'linux',
    'Error: Permission denied, cannot open /dev/x',
    PortPermissionError,
    /usermod -aG dialout .*log out and in/,
  ],
  ['linux', 'Error Resource temporarily unavailable Cannot lock port', PortBusyError, /modem service.*fuser/],
  ['linux', 'Error: Device or resource busy, cannot open /dev/x', PortBusyError, /another 'treadle'/],
  ['darwin', 'Error: Resource busy, cannot open /dev/x', PortBusyError, /lsof/],
  ['linux', 'Error: No such device or address, cannot open /dev/x', PortNotFoundError, /carries data/],
  ['darwin', 'Error: Permission denied, cannot open /dev/x', PortPermissionError, /Privacy & Security/],
  [
    'darwin',
    'Error: Operation not permitted, cannot open /dev/x',
    PortPermissionError,
    /allow the accessory/,
  ],
  ['darwin', 'Error: Device not configured, cannot open /dev/x', PortNotFoundError, /carries data/],
  ['win32', 'Opening COM3: File not found', PortNotFoundError, /plugged in/],
  ['win32', 'Opening COM3: Unknown error code 433', PortNotFoundError, /carries data/],
  ['win32', 'Opening COM3: Unknown error code 31', PortFailedError, /could not be opened/],
  ['win32', 'Opening COM3: Access denied', PortBusyError, /close it, or unplug/],
  [
    'linux',
    'Error: Inappropriate ioctl for device, cannot get',
    PortFailedError,
    /^\/dev\/x is no serial port: 'treadle ports'/,
  ],
];

describe('a port that does not open', () => {
  it.each(cases)('on %s, told as "%s", says what to do', (platform, words, kind, remedy) => {
    const error = openTrouble('/dev/x', new Error(words), platform);
    expect(error).toBeInstanceOf(kind);
    expect(error.exitCode).toBe(3);
    expect(error.message).toMatch(remedy);
    expect(error.message).toContain('/dev/x');
  });

  it.skipIf(process.platform !== 'linux')(
    'names the group that the port belongs to, whatever it is called',
    () => {
      for (const path of ['/dev/tty', '/dev/null', '/etc/hostname', '/etc/shadow', '/var/mail']) {
        if (!existsSync(path)) continue;
        const group = execFileSync('stat', ['-c', '%G', path], { encoding: 'utf8' }).trim();
        const { message } = openTrouble(path, new Error('Permission denied'), 'linux');
        // Nobody is told to join root: where that has it, it is the usual one that is missing.
        expect(message).toContain(`usermod -aG ${group === 'root' ? 'dialout' : group} `);
      }
    },
  );

  it('that the modem service holds, waits or is kept away', () => {
    const { message } = openTrouble('/dev/x', new Error('Error: Device or resource busy'), 'linux');
    expect(message).toMatch(/modem service.*treadle ports --rule.*half a minute/);
    for (const platform of ['darwin', 'win32'] as const)
      expect(openTrouble('/dev/x', new Error('Resource busy'), platform).message).not.toContain('modem');
  });
});

describe('no port at all', () => {
  it.each<[NodeJS.Platform, RegExp]>([
    ['linux', /lsusb.*2e8a:000a.*treadle sim --pty/],
    ['darwin', /allow the accessory.*System Information/],
    ['win32', /Device Manager.*yellow mark/],
    ['freebsd', /treadle sim --pty/],
  ])('on %s, may be the cable, and tells where that computer shows it', (platform, look) => {
    const words = noPortAdvice(platform);
    expect(words).toMatch(/carries data: many only charge/);
    expect(words).toMatch(look);
    // There are no such ports on Windows.
    if (platform === 'win32') expect(words).not.toContain('--pty');
  });
});

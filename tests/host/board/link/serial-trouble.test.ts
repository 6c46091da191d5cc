import { describe, expect, it } from 'vitest';
import {
  PortBusyError,
  PortFailedError,
  PortNotFoundError,
  PortPermissionError,
} from '../../../../host/board/errors.js';
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
  ['darwin', 'Error: Permission denied, cannot open /dev/x', PortPermissionError, /administers/],
  ['win32', 'Opening COM3: File not found', PortNotFoundError, /plugged in/],
  ['win32', 'Opening COM3: Access denied', PortBusyError, /close it, or unplug/],
  ['linux', 'Error: Inappropriate ioctl for device, cannot get', PortFailedError, /could not be opened/],
];

describe('a port that does not open', () => {
  it.each(cases)('on %s, told as "%s", says what to do', (platform, words, kind, remedy) => {
    const error = openTrouble('/dev/x', new Error(words), platform);
    expect(error).toBeInstanceOf(kind);
    expect(error.exitCode).toBe(3);
    expect(error.message).toMatch(remedy);
    expect(error.message).toContain('/dev/x');
  });
});

import { readFileSync, statSync } from 'node:fs';
import { userInfo } from 'node:os';
import type { TreadleError } from '../../errors.js';
import { PortBusyError, PortFailedError, PortNotFoundError, PortPermissionError } from '../errors.js';
import type { NotedHolder } from './link-options.js';
import { holderOf } from './port-note.js';

/** It keeps the port only while its page shows the board. */
const THE_DESK =
  "the desk that runs on this computer ('treadle desk') shows the board there. Show another of its views, or close its page, and " +
  'five seconds later the port is free';

/** What most distributions call the group that may use serial ports. */
const USUAL_GROUP = 'dialout';

/** A board pulled out while its port opens is told as a device; Windows has numbers: 433 no such device, 1167 not connected. */
const GONE = /no such (?:file|device)|not configured|file not found|cannot find|error code (?:433|1167)\b/i;

/** Of a file or a device that knows no baud rate. */
const NO_SERIAL_PORT = /inappropriate ioctl/i;

/** The operating system's words for a port that would not open, as the error that says what to do about it. */
export function openTrouble(path: string, cause: Error, platform = process.platform): TreadleError {
  const words = cause.message;
  if (GONE.test(words)) return new PortNotFoundError(path);
  // Windows says 'Access denied' for a port that another program holds.
  if (/lock|busy|temporarily unavailable/i.test(words) || (platform === 'win32' && /access/i.test(words)))
    return portBusy(path, platform);
  if (/permission denied|access denied|not permitted/i.test(words))
    return new PortPermissionError(path, permissionRemedy(path, platform));
  if (NO_SERIAL_PORT.test(words))
    return new PortFailedError(path, cause, "is no serial port: 'treadle ports' lists those there are");
  return new PortFailedError(path, cause);
}

function portBusy(path: string, platform: NodeJS.Platform): PortBusyError {
  const holder = holderOf(path);
  return new PortBusyError(path, holder === undefined ? holders(path, platform) : wordsOf(holder), holder);
}

function wordsOf({ program, pid, keepsIt }: NotedHolder): string {
  if (program === 'treadle desk') return THE_DESK;
  const who = `'${program}' (process ${pid})`;
  return keepsIt
    ? `${who} keeps it until it is ended. End it with Ctrl-C where it runs, then run this again`
    : `${who}. Let it finish, or end it with Ctrl-C where it runs, then run this again`;
}

function holders(path: string, platform: NodeJS.Platform): string {
  const others = "another 'treadle', a serial terminal, a printer or plotter program";
  if (platform === 'linux')
    return `${others}, or the modem service of the system (the udev rule that 'treadle ports --rule' prints keeps it away, and after half a minute it lets go by itself). 'sudo fuser -v ${path}' names it: close that program, then run this again`;
  if (platform === 'darwin')
    return `${others}. 'lsof ${path}' names it: close that program, then run this again`;
  return `${others}; close it, or unplug the board and plug it in again`;
}

function permissionRemedy(path: string, platform: NodeJS.Platform): string {
  if (platform === 'darwin')
    return (
      'macOS lets every user open such a port, but not every program: unlock the Mac, allow the accessory in System Settings, ' +
      'Privacy & Security, and plug the board in anew; or run treadle in a terminal window'
    );
  if (platform !== 'linux') return 'ask whoever administers this computer';
  const user = userInfo().username;
  return (
    `run 'sudo usermod -aG ${groupOf(path)} ${user}', then log out and in again (a new window is not enough); ` +
    "or install the udev rule that 'treadle ports --rule' prints, and plug the board in anew"
  );
}

/** The name of the group that owns the port, as /etc/group has it. */
function groupOf(path: string): string {
  try {
    const { gid } = statSync(path);
    const line = readFileSync('/etc/group', 'utf8')
      .split('\n')
      .find((entry) => entry.split(':')[2] === String(gid));
    const name = line?.split(':')[0];
    return name === undefined || name === 'root' ? USUAL_GROUP : name;
  } catch {
    return USUAL_GROUP;
  }
}

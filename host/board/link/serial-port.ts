import { readdir } from 'node:fs/promises';
import type { Duplex } from 'node:stream';
import { SerialUnavailableError } from '../errors.js';
import { openTrouble } from './serial-trouble.js';

export const usualBaudRate = 115_200;

/** A port of this computer, as the operating system tells of it. */
export interface PortFacts {
  readonly path: string;
  readonly manufacturer: string | undefined;
  readonly serialNumber: string | undefined;
  readonly vendorId: string | undefined;
  readonly productId: string | undefined;
}

/** Ports and how to open one; handed in where they are not the operating system's. */
export interface Ports {
  list(): Promise<readonly PortFacts[]>;
  open(path: string, baudRate: number): Promise<Duplex>;
}

/** Loaded only here and only when a port is wanted, so that all else works where its native part does not load. */
async function loadSerialPort() {
  try {
    return (await import('serialport')).SerialPort;
  } catch (error) {
    throw new SerialUnavailableError(error);
  }
}

/**
 * Opens a serial port.
 * @throws PortNotFoundError, PortPermissionError, PortBusyError, PortFailedError or SerialUnavailableError.
 */
export async function openSerialPort(path: string, baudRate = usualBaudRate): Promise<Duplex> {
  const SerialPort = await loadSerialPort();
  // Asks that the lines which reset some boards stay as they are when the port is let go; Linux lets them go all the same.
  const port = new SerialPort({ path, baudRate, autoOpen: false, hupcl: false });
  await new Promise<void>((resolve, reject) => {
    port.open((error) => (error ? reject(openTrouble(path, error)) : resolve()));
  });
  return port;
}

/** The ports of this computer that a board might be at. */
export async function listPorts(): Promise<PortFacts[]> {
  const SerialPort = await loadSerialPort();
  const ports = await SerialPort.list().catch(portsWithoutUdev);
  return ports.map(({ path, manufacturer, serialNumber, vendorId, productId }) => ({
    // On macOS each port has two names; opening the one in 'tty.' waits for a carrier that never comes.
    path: process.platform === 'darwin' ? path.replace('/dev/tty.', '/dev/cu.') : path,
    manufacturer,
    serialNumber,
    vendorId,
    productId,
  }));
}

/** Serial devices on Linux as its kernel names them: serialport asks udev, which a container does not have. */
const KERNEL_NAMES = /^tty(ACM|USB|AMA)\d+$/;

/** Looked for in a folder that may not be entered, what is not there comes as EACCES. */
const NOT_FOUND: readonly (string | undefined)[] = ['ENOENT', 'EACCES'];

async function portsWithoutUdev(error: NodeJS.ErrnoException) {
  if (!NOT_FOUND.includes(error.code) || process.platform !== 'linux') throw error;
  const names = (await readdir('/dev')).filter((name) => KERNEL_NAMES.test(name));
  return names.map((name) => ({
    path: `/dev/${name}`,
    manufacturer: undefined,
    serialNumber: undefined,
    vendorId: undefined,
    productId: undefined,
  }));
}

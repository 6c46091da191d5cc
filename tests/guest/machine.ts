import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { closeSync, openSync, readFileSync } from 'node:fs';
import { createServer, type Socket } from 'node:net';
import { join } from 'node:path';
import type { Bootable } from './guest-root.js';
import { listenOnLoopback } from './loopback.js';

const QEMU = 'qemu-system-x86_64';
const MEMORY_MIB = 1536;
const BOOT_LIMIT_MS = 240_000;
const COMMAND_LIMIT_MS = 180_000;
/** One serial line, for its own words; the network keeps its plain name. */
const KERNEL_WORDS = 'console=ttyS0 quiet panic=-1 8250.nr_uarts=1 net.ifnames=0';
const LAST_LINES = 25;
/** What stands before a command's exit code: the record separator of ASCII. */
const ENDED = '\u001e';

/** What a command in the guest said and how it ended. */
export interface Said {
  readonly text: string;
  readonly exitCode: number;
}

/** A Linux laptop in QEMU that does one command at a time. */
export class Machine {
  readonly #process: ChildProcess;
  readonly #console: string;
  #line: Socket | undefined;
  #heard = '';
  #onHeard: () => void = () => {};
  #onDead: (error: Error) => void = () => {};

  private constructor(qemu: ChildProcess, consoleFile: string) {
    this.#process = qemu;
    this.#console = consoleFile;
    qemu.on('error', (error) => this.#onDead(error));
    qemu.on('exit', (code) => this.#onDead(new Error(`QEMU ended with ${code}`)));
    process.on('exit', this.#kill);
  }

  static get version(): string {
    return execFileSync(QEMU, ['--version'], { encoding: 'utf8' }).split('\n')[0]!;
  }

  /** Boots it; `usbIpPort` of this computer's loopback is where it finds devices to plug in. */
  static async boot(bootable: Bootable, folder: string, usbIpPort: number): Promise<Machine> {
    const consoleFile = join(folder, 'console.txt');
    const server = createServer();
    const linePort = await listenOnLoopback(server);
    const errors = openSync(join(folder, 'qemu.txt'), 'w');
    const qemu = spawn(QEMU, qemuArguments(bootable, consoleFile, { linePort, usbIpPort }), {
      stdio: ['ignore', errors, errors],
    });
    closeSync(errors);
    const machine = new Machine(qemu, consoleFile);
    server.on('connection', (line) => machine.#listen(line));
    try {
      await machine.#until(() => machine.#heard.includes('ready'), 'it boots', BOOT_LIMIT_MS);
    } catch (error) {
      machine.stop();
      throw new Error(readFileSync(join(folder, 'qemu.txt'), 'utf8'), { cause: error });
    } finally {
      server.close();
    }
    return machine;
  }

  async run(command: string): Promise<Said> {
    this.#heard = '';
    this.#line?.write(`${command}\n`);
    await this.#until(() => isWhole(this.#heard), `'${command}' ends`, COMMAND_LIMIT_MS);
    const [text, exitCode] = this.#heard.split(ENDED);
    return { text: text!, exitCode: Number(exitCode) };
  }

  /** What its kernel and its services said so far. */
  get console(): string {
    return readFileSync(this.#console, 'utf8').replaceAll('\r', '');
  }

  stop(): void {
    this.#onDead = () => {};
    process.off('exit', this.#kill);
    this.#kill();
    this.#line?.destroy();
  }

  readonly #kill = () => this.#process.kill('SIGKILL');

  #listen(line: Socket): void {
    this.#line = line;
    line.setEncoding('utf8');
    line.on('error', (error) => this.#onDead(error));
    line.on('data', (text: string) => {
      this.#heard += text;
      this.#onHeard();
    });
  }

  #until(isSo: () => boolean, what: string, limitMs: number): Promise<void> {
    return new Promise((resolve, reject) => {
      const fail = (error: Error) => {
        clearTimeout(timer);
        reject(error);
      };
      const late = () => {
        const last = this.console.trimEnd().split('\n').slice(-LAST_LINES).join('\n');
        fail(
          new Error(`${limitMs / 1000} s went by before ${what}.\nHeard: ${this.#heard}\nConsole:\n${last}`),
        );
      };
      const timer = setTimeout(late, limitMs);
      this.#onDead = fail;
      this.#onHeard = () => {
        if (!isSo()) return;
        clearTimeout(timer);
        resolve();
      };
      this.#onHeard();
    });
  }
}

function isWhole(heard: string): boolean {
  return heard.includes(ENDED) && heard.endsWith('\n');
}

/** Hardware acceleration is not asked for: where it is offered it may hang, and where not, this runs all the same. */
function qemuArguments(
  { kernel, initramfs }: Bootable,
  consoleFile: string,
  ports: { readonly linePort: number; readonly usbIpPort: number },
): string[] {
  return [
    ...['-accel', 'tcg', '-cpu', 'max', '-m', String(MEMORY_MIB), '-display', 'none', '-no-reboot'],
    ...['-nodefaults', '-kernel', kernel, '-initrd', initramfs],
    ...['-append', `${KERNEL_WORDS} line_port=${ports.linePort} usbip_port=${ports.usbIpPort}`],
    ...['-serial', `file:${consoleFile}`, '-netdev', 'user,id=net', '-device', 'e1000,netdev=net,romfile='],
  ];
}

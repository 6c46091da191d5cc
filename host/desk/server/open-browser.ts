import { spawn } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { escapeXml } from '../../escape.js';

const OWNER_ONLY = 0o600;

/** How each system opens a file with the program that is meant for it. */
const openers: Partial<Record<NodeJS.Platform, readonly [string, ...string[]]>> = {
  darwin: ['open'],
  win32: ['rundll32', 'url.dll,FileProtocolHandler'],
};
const usualOpener: readonly [string, ...string[]] = ['xdg-open'];

/** A page on this computer that leads to the desk, opened in the browser. */
export interface OpenedBrowser {
  /** False where nothing could be started that opens a page. */
  readonly opened: boolean;
  /** Takes that page away again. */
  forget(): Promise<void>;
}

/**
 * Opens the browser at an address that nobody else may know: by way of a file that only its owner can read, since
 * the words of a command line can be read by every program of this computer.
 */
export async function openBrowser(url: string): Promise<OpenedBrowser> {
  const folder = await mkdtemp(join(tmpdir(), 'treadle-desk-'));
  const forget = () => rm(folder, { recursive: true, force: true });
  try {
    const file = join(folder, 'desk.html');
    await writeFile(file, leadingTo(url), { mode: OWNER_ONLY, flag: 'wx' });
    return { opened: await start(file), forget };
  } catch (error) {
    await forget();
    throw error;
  }
}

function leadingTo(url: string): string {
  const address = escapeXml(url);
  return `<!doctype html><meta charset="utf-8"><meta name="referrer" content="no-referrer"><title>Treadle</title>
<meta http-equiv="refresh" content="0;url=${address}"><a href="${address}">To the desk</a>
`;
}

function start(file: string): Promise<boolean> {
  const [command, ...words] = openers[process.platform] ?? usualOpener;
  const child = spawn(command, [...words, file], { stdio: 'ignore', detached: true });
  return new Promise((resolve) => {
    child.on('error', () => resolve(false));
    child.on('spawn', () => {
      child.unref();
      resolve(true);
    });
  });
}

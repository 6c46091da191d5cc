import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { NotToBeHad } from './not-to-be-had.js';

const KERNEL = 'linux-image-amd64';
const OTHERS = ['busybox-static', 'kmod', 'libkmod2', 'udev', 'usbip'];
const TOOLS = {
  'qemu-system-x86_64': 'qemu-system-x86',
  'apt-get': 'apt',
  'dpkg-deb': 'dpkg',
  cpio: 'cpio',
  ldd: 'libc-bin',
};

/** What is in the packages, each in a folder of its own name. */
export interface Unpacked {
  readonly kernel: string;
  readonly of: (name: string) => string;
}

/** Fetches Debian's packages into `folder`, or takes those of the last time, and unpacks them. */
export function debianPackages(folder: string): Unpacked {
  refuseWithoutTools();
  const kernel = kernelOfToday();
  mkdirSync(folder, { recursive: true });
  for (const name of [kernel, ...OTHERS]) unpack(name, folder);
  return { kernel: join(folder, kernel), of: (name) => join(folder, name) };
}

function refuseWithoutTools(): void {
  if (process.platform !== 'linux' || process.arch !== 'x64')
    throw new NotToBeHad(
      `it is made of Debian's packages for amd64, and this is ${process.platform} ${process.arch}`,
    );
  const missing = Object.entries(TOOLS).filter(
    ([tool]) => spawnSync(tool, ['--version'], { stdio: 'ignore' }).error !== undefined,
  );
  if (missing.length > 0)
    throw new NotToBeHad(
      `apt-get install ${missing.map(([, name]) => name).join(' ')} (${missing.map(([tool]) => tool).join(', ')})`,
    );
}

/** The package that the one without a number stands for. */
function kernelOfToday(): string {
  const { stdout } = spawnSync('apt-cache', ['depends', KERNEL], { encoding: 'utf8' });
  const named = /Depends: (linux-image-\S+)/.exec(stdout ?? '')?.[1];
  if (named === undefined) throw new NotToBeHad(`apt knows no ${KERNEL}: try apt-get update`);
  return named;
}

function unpack(name: string, folder: string): void {
  const into = join(folder, name);
  if (existsSync(into)) return;
  const fetched = spawnSync('apt-get', ['download', '-qq', name], { cwd: folder, encoding: 'utf8' });
  const file = readdirSync(folder).find((each) => each.startsWith(`${name}_`));
  if (file === undefined) throw new NotToBeHad(`apt-get download ${name}: ${fetched.stderr.trim()}`);
  const half = `${into}.half`;
  rmSync(half, { recursive: true, force: true });
  execFileSync('dpkg-deb', ['-x', join(folder, file), half]);
  execFileSync('mv', [half, into]);
  rmSync(join(folder, file));
}

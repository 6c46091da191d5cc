import { execFileSync, spawnSync } from 'node:child_process';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';
import type { Unpacked } from './debian-packages.js';

/** Where Node and its packages are in the guest, as npm installs a command for everybody. */
const PACKAGES = '/usr/lib/node_modules';
const LIBRARIES = 'usr/lib/x86_64-linux-gnu';
const KMOD_NAMES = ['modprobe', 'insmod', 'lsmod', 'depmod'];
/** With what they need, by the kernel's own list. */
const MODULES = ['e1000', 'vhci-hcd', 'cdc-acm', 'usb-storage', 'sd_mod', 'vfat', 'nls_ascii', 'nls_cp437'];

/** What the guest boots: its kernel, and its files as an initramfs. */
export interface Bootable {
  readonly kernel: string;
  readonly initramfs: string;
  readonly kernelVersion: string;
}

/** Lays the guest's files out below `folder`: what a laptop with Debian has, and the program as npm installs it. */
export function guestRoot(packages: Unpacked, folder: string): Bootable {
  const root = join(folder, 'root');
  const [kernelVersion] = readdirSync(join(packages.kernel, 'lib/modules'));
  if (kernelVersion === undefined) throw new Error(`${packages.kernel} has no modules`);
  mkdirSync(root, { recursive: true });
  putPrograms(packages, root);
  putModules(packages, root, kernelVersion);
  putAccounts(root);
  putTreadle(root, folder);
  const initramfs = join(folder, 'initramfs.cpio');
  execFileSync('sh', ['-c', `find . | cpio --quiet -o -H newc -R 0:0 > '${initramfs}'`], { cwd: root });
  return { kernel: join(packages.kernel, 'boot', `vmlinuz-${kernelVersion}`), initramfs, kernelVersion };
}

function put(from: string, root: string, to: string): void {
  mkdirSync(dirname(join(root, to)), { recursive: true });
  cpSync(from, join(root, to), { recursive: true, dereference: true });
}

function putPrograms(packages: Unpacked, root: string): void {
  for (const empty of ['proc', 'sys', 'dev', 'run', 'tmp', 'usr/bin', 'sbin', 'home/printer'])
    mkdirSync(join(root, empty), { recursive: true });
  const programs: [string, string][] = [
    [join(packages.of('busybox-static'), 'bin/busybox'), '/bin/busybox'],
    [join(packages.of('kmod'), 'bin/kmod'), '/bin/kmod'],
    [join(packages.of('udev'), 'bin/udevadm'), '/bin/udevadm'],
    [join(packages.of('usbip'), 'usr/sbin/usbip'), '/usr/sbin/usbip'],
    [process.execPath, '/usr/bin/node'],
  ];
  const libraries = join(packages.of('libkmod2'), LIBRARIES);
  for (const [from, to] of programs) put(from, root, to);
  const needing = [...programs.slice(1).map(([from]) => from), ...nativeParts()];
  for (const library of new Set(needing.flatMap((from) => librariesOf(from, libraries))))
    put(
      library,
      root,
      library.startsWith(libraries) ? join('/', LIBRARIES, library.slice(libraries.length)) : library,
    );
  for (const name of KMOD_NAMES) symlinkSync('/bin/kmod', join(root, 'sbin', name));
  mkdirSync(join(root, 'lib/systemd'), { recursive: true });
  symlinkSync('/bin/udevadm', join(root, 'lib/systemd/systemd-udevd'));
  put(join(packages.of('udev'), 'lib/udev/rules.d'), root, '/lib/udev/rules.d');
  put(join(projectRoot, 'hardware-notes/99-treadle.rules'), root, '/etc/udev/rules.d/99-treadle.rules');
  put(join(projectRoot, 'tests/guest/init.sh'), root, '/init');
  put(join(projectRoot, 'tests/guest/typed-at.sh'), root, '/typed-at.sh');
  chmodSync(join(root, 'init'), 0o755);
}

/** Of the packages that the program needs, those parts that are no JavaScript. */
function nativeParts(): string[] {
  const folder = join(projectRoot, 'node_modules');
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.node') && path.includes('linux-x64') && !path.includes('musl'))
    .map((path) => join(folder, path));
}

/** What lies beside a native part comes with its package. */
function librariesOf(program: string, besides: string): string[] {
  const said = execFileSync('ldd', [program], {
    encoding: 'utf8',
    env: { ...process.env, LD_LIBRARY_PATH: besides },
  });
  const missing = /(\S+) => not found/.exec(said)?.[1];
  if (missing !== undefined) throw new Error(`${program} needs ${missing}, which is not here`);
  return [...said.matchAll(/(\/\S+) \(0x/g)]
    .map(([, path]) => path!)
    .filter((path) => !path.includes('node_modules'));
}

/** All modules would be 400 MB; the few that are wanted, with what they need, are one. */
function putModules(packages: Unpacked, root: string, version: string): void {
  const all = packages.kernel;
  const folder = `lib/modules/${version}`;
  if (!existsSync(join(all, folder, 'modules.dep'))) listModules(packages, all, version);
  const needs = new Map<string, string>();
  for (const line of readFileSync(join(all, folder, 'modules.dep'), 'utf8').split('\n')) {
    const [path] = line.split(':');
    if (path !== undefined) needs.set(path.replace(/^.*\/|\.ko.*$/g, ''), line.replace(':', ''));
  }
  for (const name of MODULES)
    for (const path of needs.get(name)?.split(' ') ?? [])
      put(join(all, folder, path), root, join(folder, path));
  for (const list of ['modules.builtin', 'modules.builtin.modinfo', 'modules.order'])
    put(join(all, folder, list), root, join(folder, list));
  listModules(packages, root, version);
}

/** The one program of kmod is depmod when it is called so. */
function listModules(packages: Unpacked, below: string, version: string): void {
  const { status, stderr } = spawnSync(join(packages.of('kmod'), 'bin/kmod'), ['-b', below, version], {
    argv0: 'depmod',
    encoding: 'utf8',
    env: { ...process.env, LD_LIBRARY_PATH: join(packages.of('libkmod2'), LIBRARIES) },
  });
  if (status !== 0) throw new Error(`depmod: ${stderr}`);
}

/** Somebody who may use serial ports, and may nothing else. */
function putAccounts(root: string): void {
  put('/etc/group', root, '/etc/group');
  const group = readFileSync(join(root, 'etc/group'), 'utf8');
  writeFileSync(join(root, 'etc/group'), group.replace(/^(dialout:.*:)$/m, '$1printer'));
  writeFileSync(
    join(root, 'etc/passwd'),
    'root:x:0:0:root:/:/bin/sh\nprinter:x:1000:100:printer:/home/printer:/bin/sh\n',
  );
}

/** The packed package, and of the packages that it needs those that are installed here. */
function putTreadle(root: string, folder: string): void {
  const pack = ['pack', '--json', '--ignore-scripts', '--offline', '--pack-destination', folder];
  const said = execFileSync('npm', pack, {
    cwd: projectRoot,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const [{ filename }] = JSON.parse(said) as [{ filename: string }];
  const installed = join(root, PACKAGES, 'treadle');
  mkdirSync(installed, { recursive: true });
  execFileSync('tar', ['-xzf', join(folder, filename), '-C', installed, '--strip-components=1']);
  const lock = JSON.parse(readFileSync(join(projectRoot, 'package-lock.json'), 'utf8'));
  for (const [path, { dev }] of Object.entries<{ dev?: boolean }>(lock.packages))
    if (path !== '' && !dev && existsSync(join(projectRoot, path)))
      put(join(projectRoot, path), installed, path);
  const { bin } = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8'));
  symlinkSync(join(PACKAGES, 'treadle', bin.treadle), join(root, 'usr/bin/treadle'));
  chmodSync(join(installed, bin.treadle), 0o755);
}

import { type ExecFileSyncOptions, execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';
import { buildImage } from '../firmware/board/rig/image.js';
import { boardTestsRun } from '../firmware/board/rig/requirements.js';

const quietly: ExecFileSyncOptions = { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] };

/** Building the image takes its time, or another test is building it. */
export const packingMs = 300_000;

/** Somebody's own folder, with the packed library unpacked as npm would, and its dependencies linked from ours. */
export class UnpackedPackage {
  readonly folder: string;
  /** Paths of what was packed. */
  readonly files: readonly string[];

  constructor() {
    this.folder = mkdtempSync(join(tmpdir(), 'treadle-installed-'));
    if (boardTestsRun) buildImage();
    const pack = ['pack', '--json', '--ignore-scripts', '--offline', '--pack-destination', this.folder];
    const [{ filename, files }] = JSON.parse(
      String(execFileSync('npm', pack, { ...quietly, cwd: projectRoot })),
    );
    this.files = files.map(({ path }: { path: string }) => path);
    mkdirSync(this.installed, { recursive: true });
    const tarball = join(this.folder, filename);
    execFileSync('tar', ['-xzf', tarball, '-C', this.installed, '--strip-components=1'], quietly);
    this.#linkDependencies();
    writeFileSync(join(this.folder, 'package.json'), '{ "type": "module" }\n');
  }

  get installed(): string {
    return join(this.folder, 'node_modules/treadle');
  }

  /** Its command, as `bin` names it. */
  get command(): string {
    return join(this.installed, this.#manifest().bin.treadle);
  }

  remove(): void {
    rmSync(this.folder, { recursive: true });
  }

  #manifest() {
    return JSON.parse(String(execFileSync('npm', ['pkg', 'get'], { ...quietly, cwd: this.installed })));
  }

  /** What npm would bring from the registry, from our own node_modules instead: no test asks a registry. */
  #linkDependencies(): void {
    for (const name of [...Object.keys(this.#manifest().dependencies), '@types/node']) {
      const link = join(this.folder, 'node_modules', name);
      mkdirSync(dirname(link), { recursive: true });
      symlinkSync(join(projectRoot, 'node_modules', name), link);
    }
  }
}

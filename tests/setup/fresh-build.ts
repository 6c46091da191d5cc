import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';

/** Tests run what `npm run build` made; a stale build, or one that was changed since, would prove nothing. */
export default function freshBuild(): void {
  execFileSync(process.execPath, [join(projectRoot, 'firmware/build/stamp.mjs'), '--check'], {
    stdio: 'inherit',
  });
}

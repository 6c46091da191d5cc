import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';

/** Tests run what `npm run build` made; a stale build would prove nothing. */
export default function freshBuild(): void {
  execFileSync(process.execPath, [join(projectRoot, 'dist/shared-protocol/generate/stamp.js'), '--check'], {
    stdio: 'inherit',
  });
}

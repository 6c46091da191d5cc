import { UsageError } from './usage-error.js';

/** What is drawn is PNG, and no other kind by its name. @param option that names the file. @throws UsageError */
export function checkPngName(path: string, option: string): void {
  if (path.toLowerCase().endsWith('.png')) return;
  throw new UsageError(
    `${option}: '${path}' does not end in .png; it becomes a PNG picture, so give it a name that does`,
  );
}

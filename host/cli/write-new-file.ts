import { FileThereError } from '../files/file-access-error.js';
import { STANDARD_INPUT } from '../files/read-file.js';
import { isSameFile } from '../files/same-file.js';
import { checkMayWrite, writeWholeFile } from '../files/write-file.js';
import { namingOption } from './naming-option.js';
import { UsageError } from './usage-error.js';

/** Writes a file that must not be there yet, unless `over` says that it may. */
export async function writeNewFile(
  path: string,
  content: string | Uint8Array,
  over: boolean,
  option = '--output',
): Promise<void> {
  await offeringForce(option, path, () => writeWholeFile(path, content, { over }));
}

/** Writes a file in the place of one that was read, where that still has the bytes `was`. @throws FileAccessError */
export async function writeChangedFile(
  path: string,
  content: string,
  was: Uint8Array,
  option: string,
): Promise<void> {
  await namingOption(option, () => writeWholeFile(path, content, { over: true, was }));
}

/** Nothing is worked out that could not be written in the end. */
export async function checkNewFile(path: string, over: boolean, option = '--output'): Promise<void> {
  await offeringForce(option, path, () => checkMayWrite(path, { over }));
}

/** What a picture is made from is never written over by it, not with --force either. @throws UsageError */
export async function checkIsNoSource(
  path: string,
  sources: readonly (string | undefined)[],
  option = '--output',
): Promise<void> {
  for (const source of sources)
    if (source !== undefined && (await isSameFile(path, source)))
      throw new UsageError(`${option}: ${path} is what is being read: name another file`);
}

async function offeringForce(option: string, path: string, work: () => Promise<unknown>): Promise<void> {
  if (path === STANDARD_INPUT)
    throw new UsageError(`${option}: '-' is no file; name one, or leave ${option} out to have it printed`);
  try {
    await namingOption(option, work);
  } catch (error) {
    const { cause } = error as Error;
    if (!(cause instanceof FileThereError)) throw error;
    throw new UsageError(`${option}: ${cause.message}: name another file, or add --force to write over it`);
  }
}

/** What is drawn is PNG, and no other kind by its name. @param option that names the file. @throws UsageError */
export function checkPngName(path: string, option: string): void {
  if (isNamed(path, '.png')) return;
  throw new UsageError(
    `${option}: '${path}' does not end in .png; it becomes a PNG picture, so give it a name that does`,
  );
}

/** What is drawn in lines can be either; answers whether it is to stay lines. @throws UsageError */
export function isSvgName(path: string, option: string): boolean {
  if (isNamed(path, '.svg') || isNamed(path, '.png')) return isNamed(path, '.svg');
  throw new UsageError(
    `${option}: '${path}' ends neither in .png nor in .svg; it becomes one of these, so give it a name that says which`,
  );
}

function isNamed(path: string, ending: string): boolean {
  return path.toLowerCase().endsWith(ending);
}

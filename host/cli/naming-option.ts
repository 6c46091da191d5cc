import { FileAccessError } from '../files/file-access-error.js';

/** Work with a file that an option or an argument named: trouble with it says which. */
export async function namingOption<Result>(option: string, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof FileAccessError)) throw error;
    throw new FileAccessError(error.path, `${option}: ${error.message}`, error.exitCode, error);
  }
}

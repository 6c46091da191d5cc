import { type FailureExitCode, TreadleError } from '../errors.js';

/** A file that cannot be read or written as it was asked for; the message names it and says what to do. */
export class FileAccessError extends TreadleError {
  override readonly name: string = 'FileAccessError';

  constructor(
    readonly path: string,
    message: string,
    /** 2 where another name would help, 1 where the disk is at fault. */
    readonly exitCode: FailureExitCode = 2,
    cause?: unknown,
  ) {
    super(message, { cause });
  }
}

/** A file is there already and may not be written over. */
export class FileThereError extends FileAccessError {
  override readonly name = 'FileThereError';

  constructor(path: string) {
    super(path, `${path} is there already`);
  }
}

/** A file is not as it was read, or is being changed by another program: putting the new one there would lose that. */
export class FileChangedError extends FileAccessError {
  override readonly name = 'FileChangedError';

  constructor(path: string) {
    super(path, `${path} was changed meanwhile by something else; nothing was written: begin again`);
  }
}

interface Words {
  readonly say: string;
  readonly exitCode: FailureExitCode;
}

/** The names that an operating system gives to trouble with files (POSIX), in words. */
const systemWords: Readonly<Record<string, Words>> = {
  ENOENT: { say: 'there is no such file or folder', exitCode: 2 },
  ENOTDIR: { say: 'part of that path is a file, not a folder', exitCode: 2 },
  EEXIST: { say: 'a file of that name is there already', exitCode: 2 },
  EISDIR: { say: 'that is a folder, and a file is needed', exitCode: 2 },
  ENAMETOOLONG: { say: 'that name is too long', exitCode: 2 },
  ELOOP: { say: 'the links on that path lead round in a circle', exitCode: 2 },
  EACCES: { say: 'you may not do that there; name another place, or ask its owner', exitCode: 2 },
  EPERM: { say: 'you may not do that there; name another place, or ask its owner', exitCode: 2 },
  EROFS: { say: 'that disk can only be read; name another place', exitCode: 2 },
  ENOSPC: { say: 'the disk is full; make room, then try again', exitCode: 1 },
  EDQUOT: { say: 'your share of the disk is used up; make room, then try again', exitCode: 1 },
  EFBIG: { say: 'the system allows no file of that size', exitCode: 1 },
  EIO: { say: 'the disk failed; name another disk', exitCode: 1 },
};

/** What the system said, in words; undefined for what is no trouble of the system's. */
export function systemTrouble(error: unknown): Words | undefined {
  const { code, message } = error as NodeJS.ErrnoException;
  if (!(error instanceof Error) || typeof code !== 'string' || !/^E[A-Z0-9]+$/.test(code)) return undefined;
  return systemWords[code] ?? { say: message, exitCode: 1 };
}

/** `error` as trouble with `path`, after words such as 'cannot read'; what is none is thrown on as it is. */
export function fileTrouble(what: string, path: string, error: unknown): FileAccessError {
  const trouble = systemTrouble(error);
  if (error instanceof FileAccessError) return error;
  if (trouble === undefined) throw error;
  return new FileAccessError(path, `${what} ${path}: ${trouble.say}`, trouble.exitCode, error);
}

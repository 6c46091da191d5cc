import { erasedBytes, FlashMemory } from './flash-memory.js';
import { StorageFile } from './storage-file.js';

/**
 * A board's flash on a computer with files. With a `file`, which it has for itself alone until `close`, the content
 * survives a restart of the process.
 */
export class Flash extends FlashMemory {
  #file: StorageFile | undefined;

  constructor(options: { readonly bytes?: number; readonly file?: string } = {}) {
    const blank = erasedBytes(options.bytes);
    const stored = options.file === undefined ? undefined : StorageFile.open(options.file, blank);
    super(stored?.bytes ?? blank);
    this.#file = stored?.file;
  }

  override close(): void {
    this.#file?.close();
    this.#file = undefined;
  }

  protected override store(offset: number, bytes: Uint8Array): void {
    super.store(offset, bytes);
    this.#file?.write(bytes, offset);
  }
}

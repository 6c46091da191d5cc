/**
 * Which format of the storage region a sector's mark or a document is of: a byte and its complement, in bytes that the
 * first format left erased. Where the two do not fit (erased, torn or rotten) it is of the first format. Every later
 * format leaves mark, magic and these bytes in their places, so that an older firmware sees it and keeps off.
 */
import { STORAGE_FORMAT } from '../generated/constants';

/** As it is programmed: the format in the low byte. */
export const FORMAT_MARK: u16 = <u16>(STORAGE_FORMAT | ((0xff ^ STORAGE_FORMAT) << 8));

/** The newest format that the flash bears, as far as it was read since power-up. */
export let storedFormat: i32 = 1;

export function noteFormat(mark: u16): void {
  const format = i32(mark & 0xff);
  if ((format ^ i32(mark >> 8)) == 0xff) storedFormat = max(storedFormat, format);
}

/** A newer firmware wrote what is there: it is neither read nor changed. */
export function storageIsForeign(): bool {
  return storedFormat > STORAGE_FORMAT;
}

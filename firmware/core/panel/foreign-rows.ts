/** A newer firmware wrote the flash: nothing can be started, and nothing of what is there is changed. */
import { STORAGE_FORMAT } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { beginRow, put, putNumber } from '../rows/row';
import { storedFormat } from '../storage/format-mark';

export function drawForeign(): void {
  beginRow(0);
  put(ascii('Hold focus'));
  beginRow(1);
  put(ascii('flash format '));
  putNumber(storedFormat);
  beginRow(2);
  put(ascii('firmware knows '));
  putNumber(STORAGE_FORMAT);
  beginRow(3);
  put(ascii('update the firmware'));
}

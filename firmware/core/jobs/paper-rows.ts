/** That paper lies out in the safelight for too long: "Paper out 12 min!" */
import { ascii } from '../protocol/texts';
import { put, putNumber } from '../rows/row';
import { outMinutes } from './paper-out';

export function drawPaperOut(nowUs: i64): void {
  put(ascii('Paper out '));
  putNumber(outMinutes(nowUs));
  put(ascii(' min!'));
}

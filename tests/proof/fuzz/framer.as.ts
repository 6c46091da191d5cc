/** The core's framer alone, with bits of a good line turned over before the line goes in. */
import { LINE_BYTES } from '../../../firmware/core/generated/constants';
import { Framed, takeByte } from '../../../firmware/core/protocol/framer';

/** The line to be sent, newline included, and a place for it after the damage. */
export const line: usize = memory.data(LINE_BYTES);
export const damage: usize = memory.data(LINE_BYTES);

/** Good lines that the framer finds in `length` bytes of the line after `damage` was laid over it. */
export function linesTaken(length: i32): i32 {
  let taken = 0;
  for (let at = 0; at < length; at++)
    if (takeByte(load<u8>(line + at) ^ load<u8>(damage + at)) == Framed.Line) taken++;
  // Whatever was left unfinished ends here, as it does on the wire with the next line's newline.
  if (takeByte(0x0a) == Framed.Line) taken++;
  return taken;
}

/** Good lines found over every pair of bits (`first` and each later one) turned over. */
export function linesTakenWithSecondBit(length: i32, first: i32): i32 {
  let taken = 0;
  for (let second = first + 1; second < length * 8; second++) {
    flip(first);
    flip(second);
    taken += linesTaken(length);
    flip(first);
    flip(second);
  }
  return taken;
}

function flip(bit: i32): void {
  const at = damage + (bit >> 3);
  const mask: i32 = 1 << (bit & 7);
  store<u8>(at, load<u8>(at) ^ u8(mask));
}

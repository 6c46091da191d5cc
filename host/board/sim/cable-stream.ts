import { Duplex } from 'node:stream';
import { type Cable, type SerialLine, UNREAD_BYTES } from './serial-line.js';

/** Plugs a fresh cable in, and gives its far end as the stream that a serial port is. */
export function plugStream(line: SerialLine): Duplex {
  const stream = new Duplex({
    readableHighWaterMark: UNREAD_BYTES,
    read: () => {},
    write: (chunk: Buffer, _encoding, done) => line.takeIn(cable, chunk, done),
  });
  const cable: Cable = {
    get unreadBytes() {
      return stream.readableLength;
    },
    give: (bytes) => stream.push(Buffer.from(bytes)),
    end: () => {
      stream.push(null);
      stream.destroy();
    },
  };
  line.plug(cable);
  return stream;
}

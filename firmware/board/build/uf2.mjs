/** The UF2 format's fixed numbers (github.com/microsoft/uf2, MIT). */
const magicFirst = 0x0a32_4655;
const magicSecond = 0x9e5d_5157;
const magicLast = 0x0ab1_6f30;
const hasFamily = 0x2000;
const blockBytes = 512;
const payloadBytes = 256;
const payloadAt = 32;

/** An image as the file that is dragged onto the board's drive: 256 bytes to each block of 512. */
export function writeUf2(image, address, family) {
  const count = Math.ceil(image.length / payloadBytes);
  const file = Buffer.alloc(count * blockBytes);
  for (let at = 0; at < count; at++) {
    const block = file.subarray(at * blockBytes, (at + 1) * blockBytes);
    const header = [
      magicFirst,
      magicSecond,
      hasFamily,
      address + at * payloadBytes,
      payloadBytes,
      at,
      count,
      family,
    ];
    header.forEach((word, index) => {
      block.writeUInt32LE(word, index * 4);
    });
    image.copy(block, payloadAt, at * payloadBytes, (at + 1) * payloadBytes);
    block.writeUInt32LE(magicLast, blockBytes - 4);
  }
  return file;
}

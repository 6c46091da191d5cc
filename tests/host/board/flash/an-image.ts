import { markImage } from '../../../../shared-protocol/image-mark.js';
import { protocolVersion, schemaHash, version } from '../../../../shared-protocol/index.js';

/** The image's own writer; it is plain JavaScript, as the build's other tools. */
const { writeUf2 } = (await import('../../../../firmware/board/build/uf2.mjs' as string)) as {
  writeUf2: (image: Buffer, address: number, family: number) => Buffer;
};

export const flashAt = 0x1000_0000;
export const family = 0xe48b_ff56;

/** An image of so many bytes that no board could run, but whole and marked as ours. */
export function anImage(
  bytes = 3000,
  said: { chip?: string; version?: string; schemaHash?: string } = {},
): Buffer {
  const image = Buffer.from(Uint8Array.from({ length: bytes }, (_, at) => (at * 31) % 251));
  markImage(image, { chip: 'rp2040', version, schemaHash, protocol: protocolVersion, ...said });
  return image;
}

export function anImageFile(image = anImage(), address = flashAt, of = family): Buffer {
  return writeUf2(image, address, of);
}

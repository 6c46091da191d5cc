import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { run } from '../build/tools.mjs';

/** RP2040 datasheet section 2.8.1.3.1: 252 bytes and their checksum. */
const codeBytes = 252;
const polynomial = 0x04c1_1db7;

/** The boot ROM's CRC-32: most significant bit first, nothing reflected, nothing inverted at the end. */
export function bootBlockChecksum(bytes) {
  let crc = 0xffff_ffff;
  for (const byte of bytes) {
    crc ^= byte << 24;
    for (let bit = 0; bit < 8; bit++) crc = crc & 0x8000_0000 ? (crc << 1) ^ polynomial : crc << 1;
  }
  return crc >>> 0;
}

/** Compiles the second stage, pads it, adds its checksum, and gives it back as an object for the linker. */
export function sealBootBlock(source, folder, machine) {
  const object = join(folder, 'boot_block_code.o');
  const elf = join(folder, 'boot_block.elf');
  const bin = join(folder, 'boot_block.bin');
  run('arm-none-eabi-gcc', [
    ...machine,
    '-std=c11',
    '-Os',
    '-ffreestanding',
    '-Wall',
    '-Wextra',
    '-Werror',
    '-c',
    source,
    '-o',
    object,
  ]);
  run('arm-none-eabi-ld', [
    '-T',
    `${source.slice(0, -'.c'.length)}.ld`,
    '-e',
    'boot_block',
    object,
    '-o',
    elf,
  ]);
  run('arm-none-eabi-objcopy', ['-O', 'binary', elf, bin]);
  const code = readFileSync(bin);
  if (code.length > codeBytes)
    throw new Error(`The boot block takes ${code.length} bytes; the boot ROM loads ${codeBytes}.`);
  const padded = Buffer.alloc(codeBytes + 4);
  code.copy(padded);
  padded.writeUInt32LE(bootBlockChecksum(padded.subarray(0, codeBytes)), codeBytes);
  return assemble(padded, folder, machine);
}

function assemble(bytes, folder, machine) {
  const source = join(folder, 'boot_block_sealed.S');
  const object = join(folder, 'boot_block.o');
  writeFileSync(source, `.section .boot_block, "a"\n.byte ${[...bytes].join(', ')}\n`);
  run('arm-none-eabi-gcc', [...machine, '-c', source, '-o', object]);
  return object;
}

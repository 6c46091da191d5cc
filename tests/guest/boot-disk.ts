import { type BootDrive, bootDriveInfo } from '../firmware/board/rig/boot-drive.js';

export const SECTOR_BYTES = 512;
const SECTORS = 262_144;
/** One partition behind the first sector: FAT16 as "FAT: General Overview of On-Disk Format" 1.03 has it. */
const VOLUME = 1;
const CLUSTER_SECTORS = 8;
const FATS = 2;
const FAT_SECTORS = 128;
const ROOT_ENTRIES = 512;
const FAT = VOLUME + 1;
const ROOT = FAT + FATS * FAT_SECTORS;
const DATA = ROOT + (ROOT_ENTRIES * 32) / SECTOR_BYTES;
const TYPE_FAT16 = 0x0e;
const READ_ONLY = 1;
const LABEL = 8;
const LAST = 0xffff;

/** One cluster each, from cluster 2 on. */
const files = [
  { name: 'INDEX   HTM', text: '<html></html>\n' },
  { name: 'INFO_UF2TXT', text: bootDriveInfo },
];

/**
 * The boot ROM's drive as a disk of sectors: it shows two files, and remembers nothing of what is written but the blocks of an
 * image (pico-bootrom-rp2040, bootrom/virtual_disk.c).
 */
export class BootDisk {
  readonly sectors = SECTORS;
  /** The image is whole: the chip starts with it. */
  onWhole: () => void = () => {};
  readonly #drive: BootDrive;

  constructor(drive: BootDrive) {
    this.#drive = drive;
  }

  read(sector: number): Uint8Array {
    const bytes = Buffer.alloc(SECTOR_BYTES);
    if (sector === 0) writePartitions(bytes);
    else if (sector === VOLUME) writeVolume(bytes);
    else if (sector === FAT || sector === FAT + FAT_SECTORS) writeFat(bytes);
    else if (sector === ROOT) writeRoot(bytes);
    else bytes.write(files[(sector - DATA) / CLUSTER_SECTORS]?.text ?? '');
    return bytes;
  }

  write(bytes: Uint8Array): void {
    if (this.#drive.take(bytes)) this.onWhole();
  }
}

function sign(bytes: Buffer): void {
  bytes.writeUInt16LE(0xaa55, 510);
}

function writePartitions(bytes: Buffer): void {
  bytes[446 + 4] = TYPE_FAT16;
  bytes.writeUInt32LE(VOLUME, 446 + 8);
  bytes.writeUInt32LE(SECTORS - VOLUME, 446 + 12);
  sign(bytes);
}

function writeVolume(bytes: Buffer): void {
  bytes.set([0xeb, 0x3c, 0x90]);
  bytes.write('MSWIN4.1', 3, 'latin1');
  bytes.writeUInt16LE(SECTOR_BYTES, 11);
  bytes[13] = CLUSTER_SECTORS;
  bytes.writeUInt16LE(FAT - VOLUME, 14);
  bytes[16] = FATS;
  bytes.writeUInt16LE(ROOT_ENTRIES, 17);
  bytes[21] = 0xf8;
  bytes.writeUInt16LE(FAT_SECTORS, 22);
  bytes.writeUInt32LE(VOLUME, 28);
  bytes.writeUInt32LE(SECTORS - VOLUME, 32);
  bytes[36] = 0x80;
  bytes[38] = 0x29;
  bytes.write('RPI-RP2    FAT16   ', 43, 'latin1');
  sign(bytes);
}

function writeFat(bytes: Buffer): void {
  for (const [at, entry] of [0xff_f8, LAST, ...files.map(() => LAST)].entries())
    bytes.writeUInt16LE(entry, 2 * at);
}

function writeRoot(bytes: Buffer): void {
  const entries = [{ name: 'RPI-RP2    ', kind: LABEL, cluster: 0, size: 0 }];
  for (const [at, { name, text }] of files.entries())
    entries.push({ name, kind: READ_ONLY, cluster: 2 + at, size: text.length });
  for (const [at, { name, kind, cluster, size }] of entries.entries()) {
    bytes.write(name, 32 * at, 'latin1');
    bytes[32 * at + 11] = kind;
    bytes.writeUInt16LE(cluster, 32 * at + 26);
    bytes.writeUInt32LE(size, 32 * at + 28);
  }
}

import { closeSync, mkdirSync, openSync, readdirSync, readSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { NorFlash } from './nor-flash.js';

/**
 * The drive that the boot ROM makes of the board, with a folder for the mounted drive. What is written counts block by
 * block, wherever it lies (pico-bootrom-rp2040, bootrom/virtual_disk.c): whatever is no block for this chip is passed
 * over, a sector is erased when the first block of it comes, another total begins anew, and when all are there the chip starts.
 */
const BLOCK_BYTES = 512;
const PAGE_BYTES = 256;
const SECTOR_BYTES = 4096;
const PAYLOAD_AT = 32;
const FLASH = 0x1000_0000;
const FLASH_END = 0x1100_0000;
const FAMILY_IS_THERE = 0x2000;
const NOT_FLASH = 0x1;
const FAMILY = 0xe48b_ff56;

/** pico-bootrom-rp2040, bootrom/info_uf2.txt. */
export const bootDriveInfo = 'UF2 Bootloader v3.0\nModel: Raspberry Pi RP2\nBoard-ID: RPI-RP2\n';

export class BootDrive {
  readonly #flash: NorFlash;
  #total = 0;
  readonly #valid = new Set<number>();
  readonly #cleared = new Set<number>();

  constructor(flash: NorFlash) {
    this.#flash = flash;
  }

  /** Blocks that have come so far, and of how many. */
  get progress(): { readonly blocks: number; readonly of: number } {
    return { blocks: this.#valid.size, of: this.#total };
  }

  /** One sector that the laptop writes; true when the image is whole with it. */
  take(sector: Uint8Array): boolean {
    const view = new DataView(sector.buffer, sector.byteOffset, sector.byteLength);
    const word = (index: number) => view.getUint32(index * 4, true);
    if (word(0) !== 0x0a32_4655 || word(1) !== 0x9e5d_5157 || word(127) !== 0x0ab1_6f30) return false;
    const isOurs = (word(2) & FAMILY_IS_THERE) !== 0 && word(7) === FAMILY;
    if (!isOurs || (word(2) & NOT_FLASH) !== 0 || word(4) !== PAGE_BYTES) return false;
    return this.#takeBlock(word(3), word(5), word(6), sector.subarray(PAYLOAD_AT, PAYLOAD_AT + PAGE_BYTES));
  }

  #takeBlock(address: number, number: number, total: number, page: Uint8Array): boolean {
    const isFlash = address >= FLASH && address + PAGE_BYTES <= FLASH_END && address % PAGE_BYTES === 0;
    if (total !== 0 && isFlash && total !== this.#total) this.#begin(total);
    if (total === 0 || !isFlash || number >= total) {
      this.#begin(0);
      return false;
    }
    if (this.#valid.has(number)) return false;
    this.#valid.add(number);
    this.#program(address - FLASH, Math.floor((number * PAGE_BYTES) / SECTOR_BYTES), page);
    return this.#valid.size === total;
  }

  #begin(total: number): void {
    this.#total = total;
    this.#valid.clear();
    this.#cleared.clear();
  }

  /** Which sector was erased already is reckoned by the block's number, not by its address: erratum RP2040-E14. */
  #program(at: number, sectorOfNumber: number, page: Uint8Array): void {
    const { bytes } = this.#flash;
    if (!this.#cleared.has(sectorOfNumber)) {
      this.#cleared.add(sectorOfNumber);
      const from = at - (at % SECTOR_BYTES);
      bytes.fill(0xff, from, from + SECTOR_BYTES);
    }
    for (let index = 0; index < PAGE_BYTES; index++) bytes[at + index]! &= page[index]!;
  }
}

/** The drive as a folder that comes and goes; files that are written into it are taken as they grow. */
export class MountedDrive {
  readonly drive: BootDrive;
  readonly #folder: string;
  readonly #taken = new Map<string, number>();

  constructor(flash: NorFlash, folder: string) {
    this.drive = new BootDrive(flash);
    this.#folder = folder;
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'INDEX.HTM'), '<html></html>\n');
    writeFileSync(join(folder, 'INFO_UF2.TXT'), bootDriveInfo);
  }

  /** Takes what has been written since; true when the image is whole. */
  look(): boolean {
    return readdirSync(this.#folder).some((name) => this.#takeFrom(name));
  }

  #takeFrom(name: string): boolean {
    const file = openSync(join(this.#folder, name), 'r');
    try {
      const sector = new Uint8Array(BLOCK_BYTES);
      for (
        let at = this.#taken.get(name) ?? 0;
        readSync(file, sector, 0, BLOCK_BYTES, at) === BLOCK_BYTES;
      ) {
        at += BLOCK_BYTES;
        this.#taken.set(name, at);
        if (this.drive.take(sector)) return true;
      }
      return false;
    } finally {
      closeSync(file);
    }
  }

  /** The system takes the folder away. */
  goAway(): void {
    rmSync(this.#folder, { recursive: true, force: true });
  }
}

import { expect, test } from 'vitest';
import { BootDrive } from '../firmware/board/rig/boot-drive.js';
import { NorFlash } from '../firmware/board/rig/nor-flash.js';
import { BootDisk } from './boot-disk.js';
import { MassStorage } from './mass-storage.js';
import { failure } from './usbip-packets.js';

/** A driver that sends commands and takes what comes. */
class Driver {
  readonly flash = new NorFlash();
  readonly disk = new BootDisk(new BootDrive(this.flash));
  readonly #drive = new MassStorage(this.disk);
  #number = 0;

  transfer(endpoint: number, isIn: boolean, lengthBytes: number, data: Uint8Array = new Uint8Array(0)) {
    let ended: { status: number; bytes: Buffer } | undefined;
    const setup = new Uint8Array(8);
    const submission = { kind: 'submit', number: ++this.#number, endsWithEmpty: false, setup } as const;
    this.#drive.submit({ ...submission, endpoint, isIn, lengthBytes, data }, (status, bytes) => {
      ended = { status, bytes: Buffer.from(bytes) };
    });
    return () => ended;
  }

  /** A command with its data, and how it ended: the CSW's status. */
  command(bytes: readonly number[], wantedBytes: number, data?: Uint8Array) {
    const block = Buffer.alloc(31);
    block.writeUInt32LE(0x4342_5355, 0);
    block.writeUInt32LE(77, 4);
    block.writeUInt32LE(wantedBytes, 8);
    block[12] = data === undefined ? 0x80 : 0;
    block.set(bytes, 15);
    this.transfer(2, false, 31, block);
    if (data !== undefined) this.transfer(2, false, data.length, data);
    const came = data === undefined && wantedBytes > 0 ? this.transfer(1, true, wantedBytes)() : undefined;
    const status = this.transfer(1, true, 13)()!.bytes;
    expect(status.readUInt32LE(4)).toBe(77);
    return { came, status: status[12] };
  }

  read(sector: number): Buffer {
    return this.command([0x28, 0, 0, 0, sector >> 8, sector & 0xff, 0, 0, 1, 0], 512).came!.bytes;
  }
}

test('the drive of the boot ROM says how large it is, and has a volume with its two files', () => {
  const driver = new Driver();
  const capacity = driver.command([0x25], 8).came!.bytes;
  expect([capacity.readUInt32BE(0), capacity.readUInt32BE(4)]).toEqual([262_143, 512]);
  const volume = driver.read(driver.read(0).readUInt32LE(446 + 8));
  expect(volume.toString('latin1', 43, 54)).toBe('RPI-RP2    ');
  const rootAt = 1 + volume.readUInt16LE(14) + volume[16]! * volume.readUInt16LE(22);
  const root = driver.read(rootAt);
  expect(root.toString('latin1', 64, 75)).toBe('INFO_UF2TXT');
  const cluster = root.readUInt16LE(64 + 26) - 2;
  const dataAt = rootAt + (volume.readUInt16LE(17) * 32) / 512;
  expect(driver.read(dataAt + cluster * volume[13]!).toString()).toMatch(
    /^UF2 Bootloader[\s\S]*Board-ID: RPI-RP2\n/,
  );
});

test('a command that it does not know stalls, and it says why', () => {
  const driver = new Driver();
  const { came, status } = driver.command([0x5a], 8);
  expect([came!.status, status]).toEqual([failure.stalled, 1]);
  const sense = driver.command([3], 18).came!.bytes;
  expect([sense[2], sense[12]]).toEqual([5, 0x20]);
});

test('what is written wherever on it is forgotten, unless it is a block of an image', () => {
  const driver = new Driver();
  const before = driver.read(300);
  const { status } = driver.command([0x2a, 0, 0, 0, 1, 44, 0, 0, 2, 0], 1024, new Uint8Array(1024).fill(7));
  expect(status).toBe(0);
  expect(driver.read(300)).toEqual(before);
  let isWhole = false;
  driver.disk.onWhole = () => {
    isWhole = true;
  };
  const block = Buffer.alloc(512);
  for (const [at, word] of [0x0a32_4655, 0x9e5d_5157, 0x2000, 0x1000_0000, 256, 0, 1, 0xe48b_ff56].entries())
    block.writeUInt32LE(word, 4 * at);
  block.fill(0xa5, 32, 288);
  block.writeUInt32LE(0x0ab1_6f30, 508);
  driver.command([0x2a, 0, 0, 0, 2, 0, 0, 0, 1, 0], 512, block);
  expect(isWhole).toBe(true);
  expect(driver.flash.bytes.subarray(0, 256).every((byte) => byte === 0xa5)).toBe(true);
});

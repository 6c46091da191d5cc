import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { isBootDrive } from '../../../host/board/flash/boot-drive.js';
import { version } from '../../../shared-protocol/index.js';
import { EveningBench } from '../core/evening/evening-bench.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';

const STORAGE_AT = 0x8_0000;
const BLOCK = 512;

let folder: string;
const drive = () => join(folder, 'RPI-RP2');
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-drive-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const image = () => buildImage();
const uf2 = () => readFileSync(join(image().folder, 'treadle.uf2'));

/** A board with a recipe on its shelf and a light in its log. */
function boardInUse(): EveningBench<EmulatedBoard> {
  const bench = new EveningBench(new EmulatedBoard({ image: image(), driveFolder: drive() }));
  bench.greet();
  const passes = [{ kind: 'base', label: 'base', filter: '2', stops120: 0 }] as const;
  bench.print({ name: 'jetty', baseMs: 2000, passes });
  bench.focusAndStopDown();
  bench.ask({ type: 'choose', id: 0, job: 'plain', name: '' });
  bench.seconds(2);
  return bench;
}

function sendAway(bench: EveningBench<EmulatedBoard>): void {
  expect(bench.ask({ type: 'make-way', id: 0, ask: true })).toMatchObject([{ type: 'way', stands: 'asked' }]);
  bench.turn(3);
  bench.seconds(2);
}

const storageOf = ({ board }: EveningBench<EmulatedBoard>) =>
  Buffer.from(board.flash.bytes.subarray(STORAGE_AT));

/** What a whole file that is copied by hand does. */
function write(bench: EveningBench<EmulatedBoard>, file: Uint8Array): void {
  writeFileSync(join(drive(), 'treadle.uf2'), file);
  bench.board.lookAtDrive();
}

describe.runIf(boardTestsRun)('the emulated board and new firmware', () => {
  test('becomes a drive when the knob was turned, takes the image, and starts with its recipes and its log', async () => {
    const bench = boardInUse();
    const { board } = bench;
    sendAway(bench);
    expect(board.chip.bootDriveWanted).toEqual({ blinking: 0, without: 2 });
    expect(board.lampOn).toBe(false);
    expect(await isBootDrive(drive())).toBe(true);
    expect(bench.ask({ type: 'ping', id: 0 })).toEqual([]);
    expect(board.panel[1]!.trim()).toBe('New firmware comes');

    const kept = storageOf(bench);
    board.flash.bytes.fill(0, 0, image().bytes.length);
    write(bench, uf2());
    expect(storageOf(bench).equals(kept)).toBe(true);
    expect(existsSync(drive())).toBe(false);
    expect(Buffer.compare(board.flash.bytes.subarray(0, image().bytes.length), image().bytes)).toBe(0);

    bench.seconds(2);
    bench.greet();
    expect(bench.ask({ type: 'recipe-list', id: 0 })).toMatchObject([{ name: 'jetty', intact: true }, {}]);
    const log = bench.log();
    expect(log.filter(({ type }) => type === 'started')).toMatchObject([
      { cause: 'power', boot: 1 },
      { cause: 'new-firmware', boot: 2 },
    ]);
    expect(log.some((entry) => entry.type === 'exposure')).toBe(true);
    expect(board.mistakes).toEqual([]);
    expect(board.watchdogResets).toEqual([]);
    const said = Buffer.from(image().bytes).toString('latin1');
    expect(said).toContain(version);
  }, 120_000);

  test('cut off in the middle, comes back by the boot button and a second try', () => {
    const bench = boardInUse();
    const kept = storageOf(bench);
    sendAway(bench);
    const file = uf2();
    write(bench, file.subarray(0, 100 * BLOCK));
    expect(bench.board.drive!.drive.progress).toEqual({ blocks: 100, of: file.length / BLOCK });
    bench.board.startAsDrive();
    expect(existsSync(drive())).toBe(true);
    write(bench, file);
    bench.seconds(2);
    bench.greet();
    expect(bench.ask({ type: 'recipe-list', id: 0 })).toMatchObject([{ name: 'jetty', intact: true }, {}]);
    expect(
      bench
        .log()
        .filter(({ type }) => type === 'started')
        .at(-1),
    ).toMatchObject({ cause: 'new-firmware' });
    expect(kept.length).toBe(0x18_0000);
  }, 120_000);

  test('a hang is still told as one, and so is a board that was flashed by its button', () => {
    const bench = boardInUse();
    bench.board.startAsDrive();
    write(bench, uf2());
    bench.seconds(2);
    bench.board.chip.lockedUp = true;
    bench.seconds(2);
    bench.greet();
    expect(bench.log().filter(({ type }) => type === 'started')).toMatchObject([
      { cause: 'power' },
      { cause: 'new-firmware' },
      { cause: 'watchdog' },
    ]);
  }, 120_000);

  test('blocks for another chip change nothing, and the drive waits on', () => {
    const bench = boardInUse();
    sendAway(bench);
    const before = Buffer.from(bench.board.flash.bytes);
    const foreign = Buffer.from(uf2());
    for (let at = 28; at < foreign.length; at += BLOCK) foreign.writeUInt32LE(0xada5_2840, at);
    write(bench, foreign);
    expect(before.equals(bench.board.flash.bytes)).toBe(true);
    expect(existsSync(drive())).toBe(true);
    bench.board.reset('power');
    bench.seconds(2);
    bench.greet();
    expect(bench.ask({ type: 'ping', id: 0 })).toMatchObject([{ state: 'rest' }]);
  }, 120_000);
});

import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type OfferedPort, offerPort } from '../../../host/board/sim/pty.js';
import { version } from '../../../shared-protocol/index.js';
import { packingMs, UnpackedPackage } from '../../setup/unpacked-package.js';
import { EveningBench } from '../core/evening/evening-bench.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';

const SLICE_US = 20_000;
const SLICE_MS = 5;

describe.runIf(boardTestsRun)('treadle from its tarball, and the emulated board at a real port', () => {
  let unpacked: UnpackedPackage;
  let board: EmulatedBoard;
  let port: OfferedPort;
  let running: NodeJS.Timeout;
  const drive = () => join(unpacked.folder, 'RPI-RP2');

  beforeAll(async () => {
    unpacked = new UnpackedPackage();
    board = new EmulatedBoard({ image: buildImage(), driveFolder: drive() });
    inUse(board);
    port = await offerPort(board.plug());
    // Time goes on in it as the test's own process has any, and a hand is there when the panel asks.
    running = setInterval(() => {
      board.advanceUs(SLICE_US);
      if (board.panel[1]!.startsWith('New firmware?')) board.knobTurn(3);
    }, SLICE_MS);
  }, packingMs);
  afterAll(() => {
    clearInterval(running);
    port.close();
    board.close();
    unpacked.remove();
  });

  /** A recipe on its shelf, an entry of light in its log. */
  function inUse(used: EmulatedBoard): void {
    const bench = new EveningBench(used);
    bench.greet();
    const passes = [{ kind: 'base', label: 'base', filter: '2', stops120: 0 }] as const;
    bench.print({ name: 'jetty', baseMs: 2000, passes });
    bench.focusAndStopDown();
    bench.seconds(2);
  }

  function treadle(...words: string[]): Promise<{ code: number | null; said: string }> {
    const child = spawn(process.execPath, [unpacked.command, ...words], {
      cwd: unpacked.folder,
      env: {
        ...process.env,
        NO_COLOR: '1',
        TREADLE_PORT: port.path,
        TREADLE_ARCHIVE: join(unpacked.folder, 'archive.sqlite'),
      },
    });
    let said = '';
    for (const stream of [child.stdout, child.stderr])
      stream.setEncoding('utf8').on('data', (text) => {
        said += text;
      });
    return new Promise((done) => child.on('close', (code) => done({ code, said })));
  }

  test('flashes the image that came in it, and finds recipe and log where they were', async () => {
    board.flash.bytes.fill(0x55, buildImage().bytes.length, buildImage().bytes.length + 256);
    const flashed = await treadle('flash', '--drive', drive());
    expect(flashed.said).toMatch(new RegExp(`^Board ${boardId()} is back with version ${version}, `, 'm'));
    expect(flashed.code).toBe(0);
    expect(existsSync(drive())).toBe(false);
    expect(Buffer.compare(board.flash.bytes.subarray(0, buildImage().bytes.length), buildImage().bytes)).toBe(
      0,
    );

    const info = await treadle('info');
    expect(info.said).toMatch(/^recipes +1$/m);
    const collected = await treadle('collect');
    expect(collected.said).toMatch(/new records? of board/);
    const nights = await treadle('nights', '--night', 'last', '--json');
    expect(nights.said).toContain('new-firmware');
    if (process.env.TREADLE_TRANSCRIPT === '1')
      console.log(`${flashed.said}\n${info.said}\n${collected.said}`);
    expect(board.mistakes).toEqual([]);
  }, 300_000);

  const boardId = () => Buffer.from(board.flash.id).toString('hex');
});

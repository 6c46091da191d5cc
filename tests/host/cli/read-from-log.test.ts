import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { holdPedal, pushKnob, tapPedal } from '../../../host/board/sim/controls.js';
import type { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { Random } from '../../setup/random.js';
import { madeStrip } from '../darkroom/reading/made-strip.js';
import { printIntoArchive } from '../records/again/print-into-archive.js';
import { treadle } from './treadle.js';

const demo = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
const folder = mkdtempSync(join(tmpdir(), 'treadle-read-log-'));
const archive = join(folder, 'archive.sqlite');
const scan = join(folder, 'strip.png');
const dosesMs = [4000, 5657, 8000, 11_314, 16_000, 22_627];

/** From the light on the board to the scan on the laptop: the strip is given, read wet by its knob, collected, and scanned. */
beforeAll(async () => {
  await printIntoArchive(archive, demo, async ({ pair }) => {
    await pair.with(async (board) => {
      await board.setStrip({
        firstMs: 4000,
        stepStops120: 60,
        stepMs: 0,
        patches: 6,
        cover: 'cumulative',
        filter: '2',
      });
      await board.choose('strip');
    });
    giveStrip(pair.board);
    chooseThird(pair.board);
  });
  const { width, height, codes } = madeStrip(new Random(12), { device: 'flatbed', rangeR: 100, dosesMs });
  await sharp(codes, { raw: { width, height, channels: 1 } })
    .png()
    .toFile(scan);
});
afterAll(() => rmSync(folder, { recursive: true }));

function giveStrip(board: SimulatedBoard): void {
  for (let taps = 0; taps < 40 && !board.panel[3]!.includes('turn knob'); taps++) {
    if (board.panel[0]!.startsWith('Stopped down?')) holdPedal(board, 900);
    else tapPedal(board);
    board.advanceUs(2_000_000);
    while (board.lampOn) board.advanceUs(200_000);
  }
}

function chooseThird(board: SimulatedBoard): void {
  for (let turns = 0; turns < 20; turns++) board.knobTurn(-1);
  for (let turns = 0; turns < 20 && !board.panel[2]!.startsWith('Patch 3/6'); turns++) {
    board.advanceUs(300_000);
    board.knobTurn(1);
  }
  board.advanceUs(300_000);
  pushKnob(board);
  board.advanceUs(2_000_000);
}

describe('a strip of the log, read from its scan', () => {
  it('has what its patches had from the log, and says how far the printer was off in the dark', async () => {
    const ran = await treadle(['read', scan, '--archive', archive, '--json']);
    expect(ran.err).toBe('');
    const { patches, chosenMs, baseMs, refused } = JSON.parse(ran.out);
    expect(refused).toBeNull();
    expect(patches.map(({ exposureMs }: { exposureMs: number }) => exposureMs)).toEqual(dosesMs);
    expect(chosenMs).toBe(8000);
    const words = (await treadle(['read', scan, '--archive', archive])).out;
    const stops = Math.abs(Math.log2(baseMs / 8000)).toFixed(2);
    expect(words).toMatch(
      /In the dark 8\.000 s was chosen: the scan (agrees|disagrees), by -?\+?\d\.\d\d stop/,
    );
    expect(words).toContain(stops);
  });

  it('is said to be the last one, unless it was named', async () => {
    const { err } = await treadle(['read', scan, '--archive', archive]);
    const said =
      /^The exposures are those of sheet 1 of (\d{4}-\d\d-\d\d), the last strip of the log; --sheet names another\.$/m;
    const night = said.exec(err)?.[1];
    expect(err).toMatch(said);
    expect((await treadle(['read', scan, '--archive', archive, '--sheet', `${night}/1`])).err).toBe('');
  });

  it('takes the edges that a person places, in pixels of the file', async () => {
    const found = JSON.parse((await treadle(['read', scan, '--archive', archive, '--json'])).out);
    const edges = [
      ...found.patches.map((patch: { edgesPx: number[] }) => patch.edgesPx[0]),
      found.patches.at(-1).edgesPx[1],
    ];
    const placed = await treadle([
      'read',
      scan,
      '--archive',
      archive,
      '--json',
      '--edges-at',
      edges.join(','),
    ]);
    expect(JSON.parse(placed.out).patches).toEqual(found.patches);
    const few = await treadle(['read', scan, '--archive', archive, '--edges-at', '10,20,30']);
    expect(few.err).toContain('6 patches have 7');
  });
});

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, it, onTestFinished } from 'vitest';
import { KeptScan, openDeskServer, scanRoom, stripRoom, WorkThread } from '../../../host/desk/index.js';
import { readNight } from '../../../host/desk/server/nights/sheets-of-night.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { Random } from '../../setup/random.js';
import { madeNegative, scannedNegative } from '../darkroom/reading/made-negative.js';
import { madeEasel, madePictureStrip } from '../darkroom/reading/made-picture-strip.js';
import { printIntoArchive } from '../records/again/print-into-archive.js';

const SEED = 4;
const demo = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));

/** Tells when a reading begins, and when it has ended. */
class ToldThread extends WorkThread {
  #tell!: () => void;
  readonly begun = new Promise<void>((tell) => {
    this.#tell = tell;
  });
  readonly done: string[];

  constructor(done: string[]) {
    super();
    this.done = done;
  }

  override do: WorkThread['do'] = (...asked) => {
    this.#tell();
    return super.do(...asked).finally(() => this.done.push('the strip was read'));
  };
}

function pngOf(samples: Uint16Array | Uint8Array, { width, height }: { width: number; height: number }) {
  const space = samples instanceof Uint16Array ? 'grey16' : 'srgb';
  return sharp(samples, { raw: { width, height, channels: 1 } })
    .toColourspace(space)
    .png()
    .toBuffer();
}

// A strip that is sought on its negative takes a processor's seconds.
it('while a strip is read the server answers what else is asked', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-beside-'));
  const archive = join(folder, 'archive.sqlite');
  const done: string[] = [];
  const thread = new ToldThread(done);
  const scans = new KeptScan(archive);
  const server = await openDeskServer([scanRoom(scans), stripRoom(archive, thread, scans)]);
  onTestFinished(async () => {
    await server.close();
    await thread.close();
    rmSync(folder, { recursive: true });
  });
  const seed = new Random(SEED);
  const negative = madeNegative(seed);
  const easel = madeEasel(seed);
  const scanned = scannedNegative(negative, { gamma: 1, offset: 0.3 });
  const strip = madePictureStrip(seed, negative, easel, { device: 'flatbed' });
  await printIntoArchive(archive, demo, async (printer) => {
    await printer.exposeStrip({
      ...{ firstMs: strip.dosesMs[0]!, stepStops120: 60, stepMs: 0, patches: strip.dosesMs.length },
      ...{ cover: 'cumulative', filter: '' },
    });
  });
  await using reader = await readArchive(archive);
  const night = '2027-03-05';
  const { board, log, boot, seq } = (await readNight(reader, loadPlanner(), { night })).sheets[0]!.sheet;
  const { origin, hash } = new URL(server.url);
  const ask = async (path: string, body?: Buffer) => {
    const headers = { 'treadle-token': hash.slice(1), origin };
    const answer = await fetch(
      `${origin}${path}`,
      body ? { headers, method: 'POST', body: body as never } : { headers },
    );
    expect(answer.status, path).toBe(200);
    return answer;
  };
  await ask('/api/scan?name=film.png', await pngOf(scanned.samples, scanned));
  const sheet = `night=${night}&board=${board}&log=${log}&boot=${boot}&seq=${seq}`;
  const reading = ask(
    `/api/strip?${sheet}&name=strip.png&tone=0.6&negative=negative`,
    await pngOf(strip.codes, strip),
  );
  await thread.begun;
  await ask('/api/hello').then(() => done.push('the page was answered'));
  expect(await (await reading).json()).toMatchObject({ refused: null, filmContrast: expect.anything() });
  expect(done).toEqual(['the page was answered', 'the strip was read']);
});

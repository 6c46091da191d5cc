import { existsSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBoard } from '../../../host/board/link/open-board.js';
import { offerPort } from '../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { type Clock, systemClock } from '../../../host/clock.js';
import { boardForDesk, boardRoom, flashRoom, nightsRoom, openDeskServer } from '../../../host/desk/index.js';
import { BoardAtDesk, LET_GO_MS } from '../../../host/desk/server/board/board-at-desk.js';
import { toBoardRecipe } from '../../../host/recipe/board-recipe.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { messages, settings } from '../../../shared-protocol/schema.js';
import { Random } from '../../setup/random.js';
import { anImage, anImageFile } from '../board/flash/an-image.js';
import { BoardAtAPort } from '../cli/board-at-a-port.js';
import { PrinterAndDrive } from '../cli/printer-and-drive.js';
import { treadle } from '../cli/treadle.js';
import { findBarriers, launchChromium, openUnwatched, openWatched, pageTestsRun } from './chromium.js';
import { cutOff } from './cut-off.js';
import { lookAt } from './look-at.js';

const boathouse = readFileSync(join(projectRoot, 'host/evening/boathouse.json'), 'utf8');
/** The board's time to the page's. */
const SPEED = 20;
const TAP_US = 120_000;
const folder = mkdtempSync(join(tmpdir(), 'treadle-board-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** A board at a port of its own, and a desk there without an archive. @param speed the board's time to the page's. */
async function atTheDesk({
  speed = SPEED,
  ...options
}: {
  readonly speed?: number;
  readonly letGoMs?: number;
} = {}) {
  const simulated = new SimulatedBoard({ speed });
  const port = await offerPort(simulated.plug());
  const desk = boardForDesk(port.path, options);
  const server = await openDeskServer([boardRoom(desk, join(folder, 'none.sqlite'))]);
  const close = async () => {
    await server.close();
    await desk.close();
    port.close();
    simulated.close();
  };
  return { simulated, port, desk, server, close };
}

describe.runIf(pageTestsRun && process.platform !== 'win32')('in a browser, the board at a port', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterAll(() => browser?.close());

  it('is found, gets the print, gives its log and its settings, and comes back after its cable was out', async () => {
    const archive = join(folder, 'archive.sqlite');
    const path = join(folder, 'port');
    const simulated = new SimulatedBoard({ speed: SPEED });
    let port = await offerPort(simulated.plug());
    symlinkSync(port.path, path);
    const desk = boardForDesk(path);
    const server = await openDeskServer([nightsRoom(archive), boardRoom(desk, archive)]);
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The board' }).press('Enter');
    await page.getByRole('heading', { name: `at ${path}` }).waitFor();
    await page.getByRole('button', { name: /^Send/ }).press('Enter');
    await page.getByText("'boathouse' version 1 is on board").waitFor();
    await page.getByRole('button', { name: 'Collect the log' }).press('Enter');
    await page.getByText(/new records? of board/).waitFor();
    await page.getByText('Name and settings').press('Enter');
    const limit = page.getByRole('textbox', { name: 'focus-limit-s' });
    await limit.fill('10min');
    await limit.press('Enter');
    await page.getByText('focus-limit-s is 600 s.').waitFor();
    await page.getByText('Baths', { exact: true }).press('Enter');
    await page
      .getByRole('button', { name: /is fresh$/ })
      .first()
      .press('Enter');
    await page.getByText('now starts at zero').waitFor();
    const row = Buffer.from('{"baths":[{"label":"bath A","resinCoated":"60s","limit":"40 x 8x10in"}]}');
    await page
      .getByLabel('other baths, from a file')
      .setInputFiles({ name: 'baths.json', mimeType: 'application/json', buffer: row });
    await page.getByText('The board has these baths.').waitFor();
    await page.getByRole('row', { name: 'bath A 1m' }).waitFor();
    // Of a lamp that may be on already nothing is said, until the board tells; whoever comes then is told, too.
    expect(await page.getByText(/^The lamp is/).count()).toBe(0);
    const second = await openWatched(browser);
    await second.page.goto(server.url);
    await second.page.getByRole('button', { name: 'The board' }).waitFor();
    // While the pages are slow, a pedal that is held becomes a stuck one, and a focus light comes to its limit.
    const lampGoes = (on: boolean) =>
      new Promise<void>((resolve) => simulated.on('lamp', (edge) => edge.on === on && resolve()));
    const lit = lampGoes(true);
    simulated.pedal(true);
    await lit;
    simulated.runAt(1);
    simulated.pedal(false);
    await page.getByText('The lamp is on.').waitFor();
    await second.page.getByRole('button', { name: 'The board' }).press('Enter');
    await second.page.getByText('The lamp is on.').waitFor();
    simulated.runAt(SPEED);
    const out = lampGoes(false);
    simulated.pedal(true);
    await out;
    simulated.pedal(false);
    await page.getByText('The lamp is off.').waitFor();
    await second.finish();
    await lookAt(page, 'board');
    expect(await findBarriers(page)).toEqual([]);
    port.close();
    await page.getByRole('heading', { name: 'was lost' }).waitFor();
    port = await offerPort(simulated.plug());
    rmSync(path);
    symlinkSync(port.path, path);
    await page.getByRole('heading', { name: `at ${path}` }).waitFor();
    await page.getByRole('button', { name: /^Send/ }).press('Enter');
    await page.getByText("'boathouse' version 1 is on board").waitFor();
    await using kept = await readArchive(archive);
    expect((await kept.recipes('boathouse')).map(({ recipe }) => recipe.version)).toEqual([1, 1]);

    // Another laptop sent a newer one: nothing goes over it.
    const newer = { ...toBoardRecipe(readRecipe(boathouse)), version: 3, baseMs: 9000 };
    await desk.with((board) => board.sendRecipe(newer));
    await page.getByRole('button', { name: /^Send '/ }).press('Enter');
    await page.getByText("the board has version 3 of 'boathouse'").waitFor();
    await page.getByRole('button', { name: 'Send it as the next version' }).press('Enter');
    await page.getByText("'boathouse' version 4 is on board").waitFor();
    await finish();
    await server.close();
    await desk.close();
    port.close();
    simulated.close();
  });

  it('draws no row that was not told as an empty one, and says in sight what is wrong with a file, a fault a line', async () => {
    const { simulated, port, server, close } = await atTheDesk();
    // Not a watched page: a refusal of the server is a trouble in the browser's eyes.
    const page = await openUnwatched(browser, { viewport: { width: 360, height: 640 } });
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The board' }).click();
    await page.getByRole('heading', { name: `at ${port.path}` }).waitFor();
    expect(await cutOff(page)).toEqual([]);
    simulated.knobTurn(1);
    const rows = page.getByRole('region', { name: 'Its display' }).locator('.row');
    await rows.filter({ hasText: 'Safelight test' }).waitFor();
    // The first row is the same for a strip and for this test, so that the board does not tell it anew.
    await expect
      .poll(async () => (await rows.allTextContents()).map((row) => row.trimEnd()))
      .toEqual(['...', ...simulated.panel.slice(1).map((row) => row.trimEnd())]);
    await page.getByText('Name and settings').press('Enter');
    await page.getByRole('textbox', { name: 'zone-minutes' }).waitFor();
    await page.getByText('Baths', { exact: true }).press('Enter');
    await page.getByLabel('other baths, from a file').setInputFiles({
      name: 'baths.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{"bath":[]}'),
    });
    const trouble = page.getByRole('alert').filter({ hasText: 'there is no such field' });
    await trouble.waitFor();
    // biome-ignore lint/performance/useDomNodeTextContent: what counts is the lines that people see
    expect((await trouble.innerText()).split('\n')).toEqual([
      expect.stringMatching(/^Line 1.*this field is missing$/),
      expect.stringMatching(/^line 1.*there is no such field/),
    ]);
    const isInSight = async () => {
      const { y, height } = (await trouble.boundingBox())!;
      return y >= 0 && y + height <= 640;
    };
    await expect.poll(isInSight).toBe(true);
    await page.close();
    await close();
  });

  it('shows what it keeps as another page and the knob change it, and leaves alone what is being typed', async () => {
    const { simulated, port, desk, server, close } = await atTheDesk();
    const pages = [await openWatched(browser), await openWatched(browser)] as const;
    for (const { page } of pages) {
      await page.goto(server.url);
      await page.getByRole('button', { name: 'The board' }).click();
      await page.getByRole('heading', { name: `at ${port.path}` }).waitFor();
      await page.getByText('Name and settings').press('Enter');
    }
    const [one, other] = pages.map(
      ({ page }) =>
        (name: string) =>
          page.getByRole('textbox', { name, exact: true }),
    );
    await other!('zone-minutes').fill('12');
    await one!('focus-limit-s').fill('10min');
    await one!('focus-limit-s').press('Enter');
    await expect.poll(() => other!('focus-limit-s').inputValue()).toBe('600 s');
    await one!('name').fill('hut');
    await one!('name').press('Enter');
    await expect.poll(() => other!('name').inputValue()).toBe('hut');
    expect(await other!('zone-minutes').inputValue()).toBe('12');
    // At the board, the temperature of the tray.
    await desk.with(async (board) => {
      const times = { label: 'developer', resinCoatedSeconds: 90, fibreSeconds: 180 };
      await board.setBathTimes([180, 240].map((trayC10) => ({ ...times, trayC10 })));
      await board.choose('process');
    });
    const shows = (text: string) => expect.poll(() => simulated.panel.join()).toContain(text);
    const tap = (contact: (isDown: boolean) => void) => {
      contact(true);
      simulated.timeline.at(simulated.nowUs + TAP_US, () => contact(false));
    };
    tap((isDown) => simulated.pedal(isDown));
    await shows('Bath 1/4');
    for (let pushes = 0; pushes < 4 && !simulated.panel[3]!.includes('temperature'); pushes++) {
      const before = simulated.panel[3]!;
      tap((isDown) => simulated.knobPush(isDown));
      await expect.poll(() => simulated.panel[3]).not.toBe(before);
    }
    simulated.knobTurn(1);
    await shows('20.0 C');
    await expect.poll(() => one!('tray-c10').inputValue()).toBe('20C');
    for (const { finish } of pages) await finish();
    await close();
  });

  it('that falls silent is said to, since when, before it is given up, and that it speaks again', async () => {
    const { simulated, port, server, close } = await atTheDesk({ speed: 1 });
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The board' }).click();
    await page.getByRole('heading', { name: `at ${port.path}` }).waitFor();
    // Its end of the line stays open, as that of a serial adapter does.
    simulated.cutPower();
    await page
      .getByRole('status')
      .filter({ hasText: /^Nothing has come from the board since .*\d\d.*, though it is asked/ })
      .waitFor();
    await lookAt(page, 'board silent');
    await page.getByRole('heading', { name: /was lost.*no answer, though asked/ }).waitFor();
    await page.getByText('Nothing has come').waitFor({ state: 'detached' });
    simulated.restorePower();
    await page.getByRole('heading', { name: `at ${port.path}` }).waitFor();
    await finish();
    await close();
  });

  it('gets new firmware once the hand at its knob allows it, step by step, and refusals in the words of the command', async () => {
    const at = await BoardAtAPort.start();
    let clicks = -1;
    const printer = new PrinterAndDrive(at, ({ board }) => board.knobTurn(clicks));
    const board = boardForDesk(at.path);
    const where = { archive: at.archive, port: at.path, drive: printer.folder };
    const server = await openDeskServer([boardRoom(board, at.archive), flashRoom(board, where)]);
    writeFileSync(at.file('new.uf2'), anImageFile());
    writeFileSync(at.file('old.uf2'), anImageFile(anImage(3000, { version: '0.0.9' })));
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The board' }).click();
    await page.getByRole('heading', { name: `at ${at.path}` }).waitFor();
    const put = async (file: string) => {
      await page.getByLabel('another image').setInputFiles(at.file(file));
      await page.getByRole('button', { name: 'Put new firmware on the board' }).press('Enter');
    };
    await put('old.uf2');
    await page.getByText('The image is version 0.0.9, and the board has').waitFor();
    await put('new.uf2');
    await page.getByText('It was called off at the board').waitFor();
    expect(existsSync(printer.folder)).toBe(false);
    clicks = 3;
    await put('new.uf2');
    await page.getByText('asks now: turn its knob three clicks to the right').waitFor();
    await page.getByText(/^Board .* is back with version/).waitFor();
    await page.getByRole('heading', { name: `at ${at.path}` }).waitFor();
    await lookAt(page, 'new firmware');
    expect(await findBarriers(page)).toEqual([]);
    expect(Buffer.compare(printer.flash.bytes.subarray(0, anImage().length), anImage())).toBe(0);
    expect(at.board.lampEdges).toEqual([]);
    await finish();
    await server.close();
    await board.close();
    printer.close();
    at.close();
  });

  it("is told by a command to be the desk's, and is free soon after another view shows", async () => {
    const { port, server, close } = await atTheDesk({ letGoMs: 1 });
    const { page, finish } = await openWatched(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'The board' }).click();
    await page.getByRole('heading', { name: `at ${port.path}` }).waitFor();
    const busy = await treadle(['info', '--port', port.path]);
    expect(busy).toMatchObject({ code: 3, out: '' });
    expect(busy.err).toMatch(
      /the desk that runs on this computer.*shows the board there.*Show another of its views/,
    );
    await page.getByRole('button', { name: 'Rehearse' }).click();
    await expect.poll(async () => (await treadle(['info', '--port', port.path])).code).toBe(0);
    await page.getByRole('button', { name: 'The board' }).click();
    await page.getByRole('heading', { name: `at ${port.path}` }).waitFor();
    await finish();
    await close();
  });
});

describe('the board at the desk', () => {
  // Both were told that the desk let go of the board: the port was opened again before it was closed.
  it('is there for whoever asks while its port is being let go of', async () => {
    const simulated = new SimulatedBoard({ speed: 20 });
    let letGo = () => {};
    const clock: Clock = {
      ...systemClock,
      after(delayMs, run) {
        if (delayMs !== LET_GO_MS) return systemClock.after(delayMs, run);
        letGo = run;
        return () => {};
      },
    };
    const lines: ReturnType<SimulatedBoard['plug']>[] = [];
    const openBefore: number[] = [];
    const open = () => {
      openBefore.push(lines.filter(({ destroyed }) => !destroyed).length);
      lines.push(simulated.plug());
      return openBoard(lines.at(-1)!);
    };
    const desk = new BoardAtDesk(open, { clock });
    const id = await desk.with(async (board) => board.id);
    letGo();
    expect(await desk.with(async (board) => board.id)).toBe(id);
    expect(openBefore).toEqual([0, 0]);
    await desk.close();
    simulated.close();
  });

  it('is not opened again once the desk was closed, and what was being done with it ends in words', async () => {
    const simulated = new SimulatedBoard({ speed: 20 });
    let opened = 0;
    const desk = new BoardAtDesk(() => {
      opened++;
      return openBoard(simulated.plug());
    });
    let begin = () => {};
    const begun = new Promise<void>((resolve) => {
      begin = resolve;
    });
    const work = desk.with(async (board) => {
      begin();
      for (;;) await board.allSettings();
    });
    const failed = expect(work).rejects.toThrow(/let go|closed/);
    await begun;
    await desk.close();
    await failed;
    await expect(desk.with(async (board) => board.id)).rejects.toThrow('the desk let go of the board');
    expect(opened).toBe(1);
    simulated.close();
  });
});

describe('no request that the desk takes', () => {
  it('lights the lamp, whatever its body', async () => {
    const simulated = new SimulatedBoard({ speed: 20 });
    const archive = join(folder, 'dark.sqlite');
    const desk = new BoardAtDesk(() => openBoard(simulated.plug()));
    const rooms = [boardRoom(desk, archive), nightsRoom(archive)];
    const random = new Random(14);
    const bodies = [
      ...[
        {},
        { recipe: boathouse, asNext: false },
        { recipe: boathouse, asNext: true },
        { bath: 1 },
        { name: 'x' },
      ],
      ...Object.keys(settings).map((name) => ({ name, value: `${random.below(200)}` })),
      ...Object.keys(messages).map((type) => ({ type, name: 'boathouse', job: 'recipe', on: true, bath: 1 })),
    ].map((body) => JSON.stringify(body));
    const noise = Array.from({ length: 20 }, () => Array.from({ length: 40 }, () => random.below(256)));
    const all = [...bodies.map((text) => Buffer.from(text)), ...noise.map((bytes) => Buffer.from(bytes))];
    let taken = 0;
    for (const room of rooms)
      for (const methods of Object.values(room))
        for (const [method, way] of Object.entries(methods))
          for (const body of method === 'GET' ? [Buffer.of()] : all) {
            const gone = AbortSignal.abort();
            const answer = await Promise.resolve(
              way.answer({ body, query: new URLSearchParams({ on: 'true' }), gone }),
            ).catch(() => undefined);
            if (answer !== undefined) taken++;
          }
    expect(taken).toBeGreaterThan(15);
    expect(simulated.lampEdges).toEqual([]);
    // What this would show if there were a way: the pedal has one.
    simulated.pedal(true);
    await expect.poll(() => simulated.lampEdges.length).toBeGreaterThan(0);
    await desk.close();
    simulated.close();
  });
});

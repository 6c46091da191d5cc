import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { schemaHash, version } from '../../../shared-protocol/index.js';
import { bootDriveInfo } from '../../firmware/board/rig/boot-drive.js';
import { anImage, anImageFile } from '../board/flash/an-image.js';
import { BoardAtAPort } from './board-at-a-port.js';
import { PrinterAndDrive } from './printer-and-drive.js';
import { treadle } from './treadle.js';

describe('treadle flash, with a simulated board at a pseudo-terminal and a folder for its drive', () => {
  let desk: BoardAtAPort;
  let printer: PrinterAndDrive;
  let hand: (desk: BoardAtAPort) => void;

  beforeEach(async () => {
    desk = await BoardAtAPort.start();
    hand = ({ board }) => board.knobTurn(3);
    printer = new PrinterAndDrive(desk, (at) => hand(at));
    writeFileSync(desk.file('new.uf2'), anImageFile());
  });
  afterEach(() => {
    printer.close();
    desk.close();
  });

  const flash = (...words: string[]) => desk.treadleWithArchive('flash', ...words, '--drive', printer.folder);

  it('saves the log, asks the hand, writes the image, and believes only the board that comes back', async () => {
    const trace = desk.file('flash.txt');
    const { code, out, err } = await flash(desk.file('new.uf2'), '--trace', trace);
    expect(err.split('\n').map((line) => line.replace(desk.folder, '...'))).toEqual([
      `Image: version ${version}, schema ${schemaHash}.`,
      expect.stringMatching(/^\d+ new records? of board [0-9a-f]{16} saved in \.\.\.\/archive\.sqlite\.$/),
      `Board ${desk.board.id} asks now: turn its knob three clicks to the right. Anything else calls it off, and so do 30 s.`,
      'It was turned: the board becomes a drive...',
      'Writing to .../RPI-RP2: do not unplug.',
      'All is written; waiting for the board to come back...',
      '',
    ]);
    expect(out).toMatch(
      new RegExp(`^Board ${desk.board.id} is back with version ${version}, \\d+ new records? of its`),
    );
    expect(code).toBe(0);
    expect(Buffer.compare(printer.flash.bytes.subarray(0, anImage().length), anImage())).toBe(0);
    // It was a new file for each of three conversations, and so there already for the second one.
    expect(readFileSync(trace, 'utf8').match(/> \["hello"/g)!.length).toBeGreaterThan(2);
    expect(await treadle(['nights', '--archive', desk.archive])).toMatchObject({ code: 0 });

    const again = await flash(desk.file('new.uf2'), '--json');
    expect(JSON.parse(again.out)).toEqual({
      ...{ board: desk.board.id, version, schemaHash, before: version },
      log: { archive: desk.archive, newRecords: expect.any(Number) },
    });
    expect(printer.times).toBe(2);
  });

  it('changes nothing where the hand says no', async () => {
    hand = ({ board }) => board.knobTurn(-1);
    const { code, err } = await flash(desk.file('new.uf2'));
    expect(err).toContain('it was called off at the board, or nobody turned the knob within 30 s');
    expect(code).toBe(1);
    expect(existsSync(printer.folder)).toBe(false);
    expect(desk.board.powered).toBe(true);
  });

  it('does not ask while a sheet is being given', async () => {
    await desk.treadle('settings', 'set', 'lens-check', 'off');
    await desk.treadle('strip', '--first', '2s', '--step', '1', '--patches', '3', '--send');
    desk.board.pedal(true);
    desk.board.advanceUs(150_000);
    desk.board.pedal(false);
    desk.board.advanceUs(150_000);
    const { code, err } = await flash(desk.file('new.uf2'));
    expect(err).toContain('something is under way: finish it, or hold to go back. Then run this again');
    expect(code).toBe(1);
  });

  it('refuses what is no image of this board before it speaks to it', async () => {
    writeFileSync(desk.file('damaged.uf2'), anImageFile().fill(7, 700, 710));
    writeFileSync(desk.file('page.html'), '<html>'.repeat(200));
    for (const [name, words] of [
      ['damaged.uf2', 'its checksum does not fit'],
      ['page.html', 'it is no UF2 file'],
      ['nowhere.uf2', 'there is no such file'],
    ] as const) {
      const { code, err } = await flash(desk.file(name));
      expect(err).toContain(words);
      expect(err).not.toContain('asks now');
      expect(code).toBe(2);
    }
  });

  it('goes back to an older version only when told to', async () => {
    writeFileSync(
      desk.file('old.uf2'),
      anImageFile(anImage(3000, { version: '0.0.9', schemaHash: '00000000' })),
    );
    const { code, err } = await flash(desk.file('old.uf2'));
    expect(err).toContain(
      `the image is version 0.0.9, and the board has ${version}: nothing was written. Add --older`,
    );
    expect(err).toContain('Caution: this copy of treadle');
    expect(code).toBe(2);
    expect(existsSync(desk.archive)).toBe(false);
  });

  it('does not guess between the board and a drive that is there already', async () => {
    mkdirSync(printer.folder);
    writeFileSync(`${printer.folder}/INFO_UF2.TXT`, bootDriveInfo);
    const { code, err } = await flash(desk.file('new.uf2'));
    expect(err).toContain('a board waits for new firmware at');
    expect(code).toBe(2);
  });

  it('goes by the boot button where it is told to, and says how', async () => {
    desk.board.cutPower();
    printer.plugIn();
    const { code, out, err } = await flash(desk.file('new.uf2'), '--boot-button');
    expect(err).toMatch(/^Unless the board waits.*switch the mains box off.*hold its boot button/m);
    expect(out).toBe(`Board ${desk.board.id} is back with version ${version}.\n`);
    expect(code).toBe(0);
  });

  it('goes back by the boot button to no version before that of this copy, unless it is told to', async () => {
    desk.board.cutPower();
    printer.plugIn();
    writeFileSync(desk.file('old.uf2'), anImageFile(anImage(3000, { version: '0.0.9' })));
    const { code, err } = await flash(desk.file('old.uf2'), '--boot-button');
    expect(err).toContain(`the image is version 0.0.9, and this copy of treadle is ${version}`);
    expect(err).not.toContain('Writing');
    expect(code).toBe(2);
  });

  it('does not take the button for what was meant where a port was named and is not there', async () => {
    const places = ['--archive', desk.archive, '--drive', printer.folder, '--port', desk.file('no-port')];
    const { code, err } = await treadle(['flash', desk.file('new.uf2'), ...places]);
    expect(err).toMatch(/no-port/);
    expect(err).not.toContain('button');
    expect(code).toBe(3);
  });
});

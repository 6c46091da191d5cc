import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Random } from '../../setup/random.js';
import { greyScans, type Scan } from '../darkroom/evenness/grey-scans.js';
import { treadleHere } from './in-this-process.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-survey-'));
const named = (name: string) => join(folder, name);
const lensHeightMm = 350;
const scans = greyScans(new Random(2), {
  size: 180,
  easel: { lensHeightMm, riseAcross: 0.03, riseDown: 0 },
});

async function write(name: string, { codes, width, height }: Scan): Promise<void> {
  await sharp(codes, { raw: { width, height, channels: 1 } })
    .toColourspace('srgb')
    .png()
    .toFile(named(name));
}

beforeAll(async () => {
  await write('grey.png', scans.scanOf());
  await write('longer.png', scans.scanOf(0.5));
});
afterAll(() => rmSync(folder, { recursive: true }));

const survey = (...words: string[]) => treadleHere(['survey', ...words]);

describe('treadle survey', () => {
  it('tells fall-off, tilt and burns with their intervals, and draws a map', async () => {
    const words = [named('grey.png'), '--darker', named('longer.png'), '--lens-height', `${lensHeightMm}`];
    const { code, out, err } = await survey(...words, '--picture', named('light.png'));
    expect({ code, err }).toEqual({ code: 0, err: `The map is in ${named('light.png')}.\n` });
    expect(out).toMatch(/top left +-0\.\d\d +-0\.\d\d +-0\.\d\d\n/);
    expect(out).toMatch(/The right edge has .* its right edge is too near to the lens, \d\.\d mm higher/);
    expect(out).toContain('{"kind":"burn","label":"left edge","stops":"+1/');
    const { width, height } = await sharp(named('light.png')).metadata();
    expect(width).toBeGreaterThan(height);
  });

  it('gives scripts the same figures', async () => {
    const { out } = await survey(named('grey.png'), '--darker', named('longer.png'), '--json');
    const { refused, places, slope, scanner } = JSON.parse(out);
    expect({ refused, scanner }).toEqual({ refused: null, scanner: 'by the border' });
    expect(places['top left'].low).toBeLessThan(scans.truthAt(-1, -1));
    expect(places['top left'].high).toBeGreaterThan(scans.truthAt(-1, -1));
    expect(slope.rightOfMiddle.low).toBeGreaterThan(0);
  });

  it('takes one scan for two neither as the second sheet nor as the turned one', async () => {
    for (const option of ['--darker', '--turned']) {
      const same = await survey(named('grey.png'), '--range', 'R110', option, named('grey.png'));
      expect(same).toMatchObject({ code: 2, out: '' });
      expect(same.err).toContain(`${option}: ${named('grey.png')} is the first scan itself`);
    }
  });

  it('refuses with the reason, for people and for scripts', async () => {
    copyFileSync(named('grey.png'), named('grey-again.png'));
    const again = ['--darker', named('grey-again.png'), '--json'];
    const { code, out, err } = await survey(named('grey.png'), ...again);
    expect(code).toBe(2);
    expect(JSON.parse(out)).toMatchObject({ refused: 'not-darker', places: null });
    expect(err).toMatch(/^treadle: the light was not told \(not-darker\): .*--darker-by/);
  });

  it('asks how much more light a second sheet had where it cannot be half a stop, and says of which range the paper then is', async () => {
    await write('stop-longer.png', scans.scanOf(1));
    const words = [named('grey.png'), '--darker', named('stop-longer.png')];
    const asked = await survey(...words);
    expect(asked).toMatchObject({ code: 2, out: '' });
    expect(asked.err).toMatch(/\(other-step\): .*say by --darker-by how much more light it had/);
    const told = await survey(...words, '--darker-by', '1');
    expect(told.code).toBe(0);
    expect(told.out).toMatch(
      /the second sheet, \+1 stop: .*a paper of about R\d+0; if yours is far from that/,
    );
    const usual = await survey(named('grey.png'), '--darker', named('longer.png'));
    expect(usual.out).toContain('+1/2 stop, which is supposed since --darker-by told no other');
    expect(
      JSON.parse((await survey(...words, '--darker-by', '1', '--json')).out).rangeBySecondSheet,
    ).toBeGreaterThan(50);
  });

  it('says what a step that nobody told may have been instead, and nothing of it where it was told', async () => {
    const onSoft = greyScans(new Random(2), { size: 180, rangeR: 120 });
    await write('soft.png', onSoft.scanOf());
    await write('three-quarters.png', onSoft.scanOf(0.75));
    const words = [named('soft.png'), '--darker', named('three-quarters.png')];
    const usual = await survey(...words);
    expect(usual.out).toMatch(
      /\n\nNobody told how much more light the second sheet had, and \+1\/2 stop is supposed\. .*with \+3\/4 stop every figure is 1\.5 times as large, and the paper about R\d+0/,
    );
    const { otherSteps } = JSON.parse((await survey(...words, '--json')).out);
    expect(otherSteps).toContainEqual({ stops: '+3/4', times: 1.5, rangeR: expect.any(Number) });
    const told = [...words, '--darker-by', '3/4'];
    expect((await survey(...told)).out).not.toContain('Nobody told');
    expect(JSON.parse((await survey(...told, '--json')).out).otherSteps).toEqual([]);
  });

  it('asks for what tells light from grey, and names what cannot be read', async () => {
    expect((await survey(named('grey.png'))).err).toContain('by one of two');
    expect((await survey(named('grey.png'), '--range', '2')).err).toContain(
      "--range: '2' is not an ISO range",
    );
    expect((await survey(named('none.png'), '--range', 'R110')).err).toContain('there is no such file');
    expect((await survey(named('grey.png'), '--range', 'R110', '--picture', 'light.jpg')).err).toContain(
      '.png',
    );
  });
});

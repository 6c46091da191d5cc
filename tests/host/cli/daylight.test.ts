import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';
import { treadle } from './treadle.js';

const recipe = join(projectRoot, 'host/evening/boathouse.json');
const folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
afterAll(() => rmSync(folder, { recursive: true }));
const inFolder = (name: string) => join(folder, name);

describe('treadle rescale', () => {
  // ((M2 + 1) / (M1 + 1))^2: Clerc, Photography: Theory and Practice. f/8 to f/5.6 halves: marked stops, ISO 517.
  it('multiplies the factors, rounds once and half up, and gives the reasons', async () => {
    const { code, out } = await treadle([
      'rescale',
      recipe,
      '--magnification',
      '8',
      '--aperture',
      'f/5.6',
      '--json',
    ]);
    expect(code).toBe(0);
    const { account, recipe: changed } = JSON.parse(out);
    expect(account.reasons.map(({ factor }: { factor: number }) => factor)).toEqual([
      2.25,
      expect.closeTo(0.5, 9),
    ]);
    expect(account.baseMs).toBe(14_063);
    expect(changed).toMatchObject({
      base: '14.063s',
      name: 'boathouse-8-times',
      aperture: 'f/5.6',
      magnification: 8,
      version: 1,
    });
    expect(changed.history).toHaveLength(4); // where it comes from, both changes, and the base that came of them
  });

  it('writes the new version where it is told to, and never over another file', async () => {
    const to = inFolder('large.json');
    const words = ['rescale', recipe, '--from', '18x24cm', '--to', '30x40cm', '-o', to];
    expect((await treadle(words)).code).toBe(0);
    expect((await treadle(['check', to])).code).toBe(0);
    const again = await treadle(words);
    expect(again).toMatchObject({ code: 2 });
    expect(again.err).toContain('is there already');
    expect((await treadle([...words, '--force'])).code).toBe(0);
  });

  it.each([
    [['--magnification', '3:4.5'], /the recipe/],
    [['--magnification', '0'], /not a number above 0/],
    [['--magnification', '1:2:3'], /more than one colon/],
    [['--column-height', '300:400'], /does not say its focal length in mm; give what it was/],
    [['--aperture', 'f/3.5'], /--aperture: .*marked in halves or thirds/],
    [['--from', '18x24cm'], /both --from and --to/],
    [['--aperture', 'f/banana'], /banana/],
    [['--from', '8x10', '--to', '11x14'], /'8x10' does not say its unit; write 8x10in, 8x10cm, 8x10mm/],
    [['--magnification', '8', '--negative', '24x36mm'], /--negative goes with --from and --to/],
    [['--aperture', 'f/11', '--pupil-factor', '1.2'], /--pupil-factor goes with a change of size/],
    [
      ['--from', '8x10in', '--to', '11x14in', '--negative', '4x5in'],
      /magnification is 5, but a negative of 4 x 5 in fills 8 x 10 in at 2;/,
    ],
    [['--paper-speed', '200'], /both speeds/],
    [['--from', '18 by 24', '--to', '30x40'], /--from: .*is not a size/],
    [[], /./],
  ])('refuses %j in words', async (options, words) => {
    const ran = await treadle(['rescale', recipe, ...options]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(words);
    expect(ran.err).not.toContain('should not have');
  });
});

describe('treadle contrast', () => {
  // Two-point rule: DR = L + log10(t_hi / t_sh), computed from the definition: 1.10 + log10(8/16) = 0.799.
  it('tells the range that the negative needs from one strip', async () => {
    const { out } = await treadle([
      'contrast',
      '--range',
      '110',
      '--highlight',
      '8s',
      '--shadow',
      '16s',
      '--json',
    ]);
    expect(JSON.parse(out).neededR).toBeCloseTo(79.9, 1);
  });

  it('asks for what is missing, and refuses nonsense', async () => {
    expect(await treadle(['contrast', '--range', '110'])).toMatchObject({ code: 2, out: '' });
    const ran = await treadle(['contrast', '--densities', '0.30:1.25']);
    expect(ran.code).toBe(2);
    expect(ran.err).not.toContain('should not have');
  });
});

describe('changes of filter, split grade and dry-down', () => {
  it('carry the factor into the pass, and leave the base', async () => {
    const { out } = await treadle(['filter', recipe, '--to', '4', '--json']);
    const { recipe: changed } = JSON.parse(out);
    expect(changed).toMatchObject({ base: '12.5s', passes: [{ filter: '4', stops: '+1' }, {}, {}] });
  });

  it('refuse a filter that the table has not', async () => {
    const ran = await treadle(['filter', recipe, '--to', '9']);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/9/);
  });

  it('give the strip’s own time, where whole 1/120 stop once made 11.986 s of 12 s', async () => {
    // log2(12 / 8) = 0.584963, computed.
    const { out } = await treadle(['split', recipe, '--soft', '00:8s', '--hard', '5:12s']);
    expect(out).toContain('then 12.000 s through filter 5, +0.584963 stop from the base');
    expect(out).toMatch(/dodge 'face' in both/);
    expect(out).toMatch(/burn 'sky' .* so that it stays/);
    // 3.249 s on a base of 8 s; its offset is 59/120 stop, which nobody reads (59 / 120 = 0.4917).
    expect(out).toContain("burn 'far hills' +1/3 to +0.4917 stop of the new base, so that it stays 3.249 s");
  });

  it('change nothing under version 65535, after which there is none', async () => {
    const last = inFolder('last.json');
    const text = readFileSync(recipe, 'utf8').replace('"title"', '"version": 65535, "title"');
    writeFileSync(last, text);
    for (const words of [
      ['change', last, '--set', 'sky=+1/2'],
      ['split', last, '--soft', '00:8s', '--hard', '5:12s'],
    ]) {
      const ran = await treadle(words);
      expect(ran).toMatchObject({ code: 2, out: '' });
      expect(ran.err).toMatch(/has had version 65535, the last that there is: give it another name/);
    }
    expect(readFileSync(last, 'utf8')).toBe(text);
  });

  it('split asks whether soft and hard were swapped', async () => {
    const ran = await treadle(['split', recipe, '--soft', '5:8s', '--hard', '00:12s']);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(/filter 5, which prints harder \(R\d+\) than filter 00 .*were they swapped\?/);
  });

  it('check and split know the filters that filter knows', async () => {
    expect((await treadle(['split', recipe, '--soft', '00:8s', '--hard', '6:12s'])).err).toMatch(
      /filter 6 is not in the table/,
    );
    const odd = inFolder('odd.json');
    writeFileSync(odd, readFileSync(recipe, 'utf8').replaceAll('"filter": "2 1/2"', '"filter": "g3"'));
    expect((await treadle(['check', odd])).out).toMatch(/filter g3 is not in the table 'common filters'/);
  });

  it('make two base passes of a split', async () => {
    const { out } = await treadle(['split', recipe, '--soft', '00:8s', '--hard', '5:12s', '--json']);
    expect(
      JSON.parse(out).recipe.passes.map(({ kind, filter }: Record<string, string>) => [kind, filter]),
    ).toEqual([
      ['base', '00'],
      ['base', '5'],
      ['burn', '00'],
      ['burn', '00'],
    ]);
  });

  it('take dry-down off every exposure, and show it in the timeline', async () => {
    const to = inFolder('dry.json');
    expect((await treadle(['dry-down', recipe, '--percent', '8%', '-o', to])).code).toBe(0);
    const { out } = await treadle(['timeline', to, '--json']);
    expect(JSON.parse(out).passes[0].doseMs).toBe(11_500);
  });

  // 2.5 was promised in words and refused as no whole number.
  it('take a patch between two of the dry-down sheet', async () => {
    const { out } = await treadle(['dry-down', '--matched', '2.5', '--json']);
    expect(JSON.parse(out).dryDown10).toBe(51);
    expect((await treadle(['dry-down', '--matched', '2.7'])).err).toContain(
      "--matched: '2.7' is not a patch",
    );
  });

  it('read an own table, and name what is wrong with it', async () => {
    const table = inFolder('filters.json');
    writeFileSync(table, '{"name": "mine"}');
    const ran = await treadle(['filter', recipe, '--to', '4', '--filters', table]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('filters');
  });
});

describe('pages and pictures', () => {
  const ramp = { raw: { width: 90, height: 60, channels: 1 } } as const;

  it('a printing map is one page with every area named', async () => {
    const to = inFolder('map.html');
    expect((await treadle(['map', recipe, '-o', to])).code).toBe(0);
    const page = readFileSync(to, 'utf8');
    for (const label of ['face', 'slipway', 'sky', 'far hills']) expect(page).toContain(label);
  });

  it('a map is refused under another ending', async () => {
    expect(await treadle(['map', recipe, '-o', inFolder('map.pdf')])).toMatchObject({ code: 2 });
  });

  it('a preview of a scan is a picture of its size and a border', async () => {
    const scan = inFolder('scan.png');
    await sharp(
      Uint8Array.from({ length: 90 * 60 }, (_, at) => 40 + (at % 90) * 2),
      ramp,
    )
      .png()
      .toFile(scan);
    const to = inFolder('print.png');
    expect((await treadle(['preview', recipe, '--scan', scan, '-o', to])).code).toBe(0);
    expect((await sharp(to).metadata()).width).toBeGreaterThan(90);
  });

  // A picture in which every base looked right said nothing about a change of base.
  it('a preview beside a base that was right is darker for more light, and says what its brightness means', async () => {
    const scan = inFolder('right.png');
    await sharp(
      Uint8Array.from({ length: 90 * 60 }, (_, at) => 40 + (at % 90) * 2),
      ramp,
    )
      .png()
      .toFile(scan);
    let shown = 0;
    const meanOf = async (...more: string[]) => {
      const to = inFolder(`bright-${shown++}.png`); // sharp remembers a file by its name
      const ran = await treadle(['preview', recipe, '--scan', scan, '-o', to, '--force', ...more]);
      expect(ran).toMatchObject({ code: 0 });
      return { mean: (await sharp(to).stats()).channels[0]!.mean, words: ran.err };
    };
    const asRight = await meanOf();
    expect(asRight.words).toContain("supposes that the recipe's base is right");
    const same = await meanOf('--right', '12.5s');
    expect(same.mean).toBeCloseTo(asRight.mean, 6);
    const twiceTheLight = await meanOf('--right', '6.25s');
    expect(twiceTheLight.mean).toBeLessThan(asRight.mean - 10);
    expect(twiceTheLight.words).toContain('follows from 6.25s, which was right');
    expect((await meanOf('--right', recipe)).mean).toBeCloseTo(asRight.mean, 6);
  });

  it('a scan that is no picture is refused in words', async () => {
    const ran = await treadle(['preview', recipe, '--scan', recipe, '-o', inFolder('x.png')]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('is no picture that can be a scan');
    expect(existsSync(inFolder('x.png'))).toBe(false);
  });
});

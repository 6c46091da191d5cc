import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { greyToneCurve } from '../../../../host/darkroom/reading/grey-profile.js';
import { readStripScan } from '../../../../host/darkroom/reading/strip-scan.js';
import { madeProfile, withProfile } from './made-profile.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-scan-'));
afterAll(() => rmSync(folder, { recursive: true }));

const SIDE = 16;
const codes = Uint16Array.from({ length: SIDE * SIDE }, (_, at) => 65_535 * (0.05 + (0.9 * at) / SIDE ** 2));
/** sRGB's own curve, as the standard's parameters have it (IEC 61966-2-1). */
const srgbParameters = [2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045];

describe('the light of a scan', () => {
  // Outside check: the same codes as colours, made light by the colour engine that sharp brings.
  it.each([1, 1.8, 2.2])(
    'of a grey file is by its profile, gamma %s, as a colour engine has it',
    async (gamma) => {
      const [grey, colours] = [await lightOf('GRAY', gamma), await lightOf('RGB ', gamma)];
      expect(grey.colour).toBe('embedded profile');
      grey.light.forEach((light, at) => {
        expect(Math.abs(light - colours.light[at]!)).toBeLessThan(0.002);
      });
    },
  );

  it('is read from tables and parametric curves too, and not from what is no profile', () => {
    const curve = greyToneCurve(madeProfile('GRAY', srgbParameters))!;
    for (const [code, light] of [
      [0.02, 0.00155],
      [0.5, 0.21404],
      [0.9, 0.7874],
    ] as const)
      expect(curve(code)).toBeCloseTo(light, 4);
    expect(greyToneCurve(Buffer.from('no profile at all'))).toBeUndefined();
    expect(greyToneCurve(madeProfile('RGB ', 2.2))).toBeUndefined();
    expect(greyToneCurve(madeProfile('GRAY', 2.2).subarray(0, 150))).toBeUndefined();
  });
});

it.each(['as it came', 'without its tags', 'cut short', 'of another kind'])(
  'a profile %s is said to be used only where it is',
  async (damage) => {
    const whole = madeProfile('RGB ', 1.8);
    const profile = Buffer.from(whole.subarray(0, damage === 'cut short' ? 150 : undefined));
    if (damage === 'without its tags') profile.writeUInt32BE(0, 128);
    if (damage === 'of another kind') profile.write('none', 36);
    const scan = await lightOf('RGB ', profile);
    // sRGB's light of half, and the profile's, by their formulas: IEC 61966-2-1 and the gamma of 1.8.
    const middle = scan.light[(SIDE * SIDE) / 2]!;
    const isUsed = Math.abs(middle - 0.5 ** 1.8) < Math.abs(middle - ((0.5 + 0.055) / 1.055) ** 2.4);
    expect(scan.colour).toBe(isUsed ? 'embedded profile' : 'sRGB');
    expect(isUsed).toBe(damage === 'as it came');
  },
);

/** sharp changes the codes when it is given a profile; these stay as they are. */
async function lightOf(space: 'GRAY' | 'RGB ', by: number | Buffer) {
  const profile = typeof by === 'number' ? madeProfile(space, by) : by;
  const channels = space === 'GRAY' ? 1 : 3;
  const raw = Uint16Array.from(
    { length: codes.length * channels },
    (_, at) => codes[Math.floor(at / channels)]!,
  );
  const png = await sharp(raw, { raw: { width: SIDE, height: SIDE, channels } })
    .toColourspace(space === 'GRAY' ? 'grey16' : 'rgb16')
    .png()
    .toBuffer();
  const file = join(folder, `${space.trim()}.png`);
  writeFileSync(file, withProfile(png, profile));
  return readStripScan(file);
}

import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { emptyField, transform } from '../../../../host/darkroom/reading/registration/fourier.js';
import { onNegative } from '../../../../host/darkroom/reading/registration/placement.js';
import { register } from '../../../../host/darkroom/reading/registration/register.js';
import type { Tones } from '../../../../host/darkroom/reading/registration/tones.js';
import { Random } from '../../../setup/random.js';
import { madeNegative } from './made-negative.js';

const TURN_DEGREES = 93;
const SCALE = 0.8;

describe('registration', () => {
  // Outside check: the picture library's own affine transform (https://sharp.pixelplumbing.com/api-operation/#affine) lays
  // the strip over the film, and says nothing of how. Costs 1 s.
  it('finds a part that sharp mirrored, turned and made smaller, and that a curve made another picture', async () => {
    const film = filmOf(5);
    const [cosine, sine] = [
      Math.cos((TURN_DEGREES * Math.PI) / 180),
      Math.sin((TURN_DEGREES * Math.PI) / 180),
    ];
    const matrix = [-SCALE * cosine, -SCALE * sine, -SCALE * sine, SCALE * cosine] as const;
    const codes = Uint8Array.from(film.tones, (tone) => Math.round(255 * (1 + tone / 2)));
    const raw = { width: film.width, height: film.height, channels: 1 } as const;
    const whole = await sharp(codes, { raw })
      .affine(
        [
          [matrix[0], matrix[1]],
          [matrix[2], matrix[3]],
        ],
        { background: '#000', interpolator: 'bilinear' },
      )
      .extractChannel(0)
      .raw()
      .toBuffer({ resolveWithObject: true });
    const part = { left: 30, top: 70, width: 110, height: 150 };
    const tones = new Float32Array(part.width * part.height);
    for (let y = 0; y < part.height; y++)
      for (let x = 0; x < part.width; x++) {
        const code = whole.data[(part.top + y) * whole.info.width + part.left + x]!;
        tones[y * part.width + x] = 2 / (1 + Math.exp(-(code - 150) / 25));
      }
    const found = register({ width: part.width, height: part.height, tones }, film);
    expect(found.placement.mirrored).toBe(true);
    const place = onNegative(found.placement, part, film);
    const determinant = matrix[0] * matrix[3] - matrix[1] * matrix[2];
    const misses = [
      [20, 20],
      [90, 30],
      [55, 130],
    ].map(([x, y]) => {
      const right = part.left + x! - (whole.info.width - 1) / 2;
      const down = part.top + y! - (whole.info.height - 1) / 2;
      const [u, v] = place(x!, y!);
      return [
        u - (matrix[3] * right - matrix[1] * down) / determinant - (film.width - 1) / 2,
        v - (matrix[0] * down - matrix[2] * right) / determinant - (film.height - 1) / 2,
      ] as const;
    });
    // The library rounds its frame to whole pixels about the middle; between places that says nothing.
    for (const [u, v] of misses) {
      expect(Math.hypot(u, v)).toBeLessThan(2.5);
      expect(Math.hypot(u - misses[0]![0], v - misses[0]![1])).toBeLessThan(1);
    }
    expect(found.likeness).toBeGreaterThan(0.6);
  });

  it('transforms as the sum of waves that defines it', () => {
    const random = new Random(3);
    const field = emptyField(8, 4);
    field.real.set(Array.from({ length: 32 }, () => random.share()));
    const before = Float32Array.from(field.real);
    transform(field, false);
    let [real, imaginary] = [0, 0];
    before.forEach((value, at) => {
      const phase = -2 * Math.PI * ((3 * (at % 8)) / 8 + Math.floor(at / 8) / 4);
      real += value * Math.cos(phase);
      imaginary += value * Math.sin(phase);
    });
    expect(field.real[8 + 3]).toBeCloseTo(real, 4);
    expect(field.imaginary[8 + 3]).toBeCloseTo(imaginary, 4);
    transform(field, true);
    field.real.forEach((value, at) => {
      expect(value / 32).toBeCloseTo(before[at]!, 5);
    });
  });
});

function filmOf(seed: number): Tones {
  const { width, height, density } = madeNegative(new Random(seed));
  return { width, height, tones: density.map((each) => -each) };
}

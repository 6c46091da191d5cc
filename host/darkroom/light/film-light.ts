/**
 * What a scan of film has to do with light at the easel. Densities there are `contrast` times those of the scan (directed
 * light sees film denser than a scanner does, and a scanner has a scale of its own), and stray light, as a share of the mean
 * light of the picture, falls everywhere.
 */
export interface EaselTie {
  readonly contrast: number;
  readonly flareShare: number;
}

/** Before any strip: what enlargers and film scanners are usually like, one deviation either way (from memory, no source). */
export const usualEasel = {
  contrast: 1.05,
  contrastSpread: 0.12,
  flareShare: 0.02,
  flareSpread: 0.012,
} as const;

/** The share of the light of the picture's tones, for its stray light: log10 of transmittance, some of many. */
export type FilmTones = ArrayLike<number>;

/** log10 of the light at the easel, as a share of what would fall with no film, for log10 of the scan's transmittance. */
export function easelLog({ contrast, flareShare }: EaselTie, film: FilmTones): (filmLog: number) => number {
  let sum = 0;
  for (let at = 0; at < film.length; at++) sum += 10 ** (contrast * film[at]!);
  const stray = (flareShare * sum) / Math.max(1, film.length);
  return (filmLog) => Math.log10(10 ** (contrast * filmLog) + stray);
}

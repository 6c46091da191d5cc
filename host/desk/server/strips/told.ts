/** What the page is told of a strip's scan. */
import type { readingData } from '../../../darkroom/reading/reading-data.js';
import type { FilmTie } from '../../../recipe/film-tie.js';

export type StripTold = ReturnType<typeof readingData> & {
  /** Why it was not read, and what to do; empty where it was. */
  readonly why: string;
  /** What the patches follow each other along, and how many pixels of the file there are that way. */
  readonly along: 'x' | 'y';
  readonly pixelsAlong: number;
  readonly patchCount: number;
  /** By the log; empty where it names none. */
  readonly filter: string;
  /** One more than patches; none where none were found. */
  readonly edges: readonly EdgeTold[];
  readonly picture: StripPicture;
  /** What strip and negative told together; null where the one was not read against the other. */
  readonly filmTie: FilmTie | null;
  /** What the profile that it was just kept in tells now, in words; none where it was only read. */
  readonly keptIn: readonly string[];
};

export type PercentPoint = readonly [x: number, y: number];

/** Where an edge lies: in pixels of the file along the strip, and its ends in per cent of width and height. */
export interface EdgeTold {
  readonly px: number;
  readonly from: PercentPoint;
  readonly to: PercentPoint;
}

/** The scan made small: its codes of grey from the top left, in Base64. */
export interface StripPicture {
  readonly width: number;
  readonly height: number;
  readonly codes: string;
}

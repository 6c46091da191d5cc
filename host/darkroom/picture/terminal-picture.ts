import { pictureLibrary } from '../../picture-library.js';
import type { GreyPicture } from './grey.js';

/** What a terminal is told about itself: enough of a stream and of the environment to decide. */
export interface TerminalFacts {
  readonly isTTY: boolean;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/** 'full': 24-bit colour. 'grey': the 24 greys among 256 colours. */
export type TerminalColour = 'full' | 'grey';

export const terminalPictureBounds = { columns: { min: 8, max: 160 } } as const;

/** White is shown as this, of 255: the picture must not light up a room with a safelight in it. */
const BRIGHTEST = 150;
/** The greys among 256 colours are 232 to 255, in even steps. */
const FIRST_GREY = 232;
const GREY_COUNT = 24;
/** The picture's upper pixel is the block, its lower one the ground that it stands on. */
const UPPER_HALF_BLOCK = '\u2580';
const RESET = '\u001b[0m';

/**
 * Which colours a terminal will show, or undefined for none: no terminal, a dumb one, or NO_COLOR set to
 * anything but nothing (no-color.org).
 */
export function terminalColour({ isTTY, env }: TerminalFacts): TerminalColour | undefined {
  if (!isTTY || env.TERM === 'dumb') return undefined;
  if (env.NO_COLOR !== undefined && env.NO_COLOR !== '') return undefined;
  return /^(truecolor|24bit)$/i.test(env.COLORTERM ?? '') ? 'full' : 'grey';
}

/**
 * The picture in half blocks, two pixels to a character, one string a line; dim, so that it can be looked at
 * beside the trays.
 * @param columns 8 to 160; the height follows.
 */
export async function terminalPicture(
  picture: GreyPicture,
  columns: number,
  colour: TerminalColour,
): Promise<string[]> {
  const { min, max } = terminalPictureBounds.columns;
  const width = Math.min(max, Math.max(min, Math.floor(columns)));
  const height = 2 * Math.max(1, Math.round((width * picture.height) / picture.width / 2));
  const pixels = await (await pictureLibrary())(picture.pixels, {
    raw: { width: picture.width, height: picture.height, channels: 1 },
  })
    .resize(width, height, { fit: 'fill' })
    .extractChannel(0)
    .raw()
    .toBuffer();
  const cell = colour === 'full' ? fullCell : greyCell;
  return Array.from({ length: height / 2 }, (_, row) => {
    const upper = pixels.subarray(2 * row * width, (2 * row + 1) * width);
    const lower = pixels.subarray((2 * row + 1) * width, (2 * row + 2) * width);
    return `${Array.from(upper, (grey, column) => cell(grey, lower[column]!)).join('')}${RESET}`;
  });
}

function fullCell(upper: number, lower: number): string {
  const level = (grey: number) => Math.round((grey * BRIGHTEST) / 255);
  const rgb = (grey: number) => `${level(grey)};${level(grey)};${level(grey)}`;
  return `\u001b[38;2;${rgb(upper)};48;2;${rgb(lower)}m${UPPER_HALF_BLOCK}`;
}

function greyCell(upper: number, lower: number): string {
  const index = (grey: number) =>
    FIRST_GREY + Math.round(((grey * BRIGHTEST) / 255 / 255) * (GREY_COUNT - 1));
  return `\u001b[38;5;${index(upper)};48;5;${index(lower)}m${UPPER_HALF_BLOCK}`;
}

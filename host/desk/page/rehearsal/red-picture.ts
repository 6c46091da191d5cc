import type { GreyPicture } from '../../../darkroom/picture/grey.js';
import type { HeldBack } from './held-back.js';

/** As the safelight shows it: paper white is red. Hatched where hand or card are. */
export function drawInRed(canvas: HTMLCanvasElement, picture: GreyPicture, held?: HeldBack): void {
  const { width, height, pixels } = picture;
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  const image = context.createImageData(width, height);
  for (let at = 0; at < pixels.length; at++) {
    image.data[4 * at] = held?.pixels[at] === 1 && isHatch(at, width) ? pixels[at]! ^ HATCH : pixels[at]!;
    image.data[4 * at + 3] = 255;
  }
  context.putImageData(image, 0, 0);
}

/** Lighter on dark and darker on light. */
const HATCH = 0x80;
const HATCH_PITCH = 9;
const HATCH_WIDTH = 2;

function isHatch(at: number, width: number): boolean {
  return ((at % width) + Math.floor(at / width)) % HATCH_PITCH < HATCH_WIDTH;
}

/** So often a picture that changes is worked out again. */
const PICTURE_MS = 200;
/** And for so many times as long as it took nothing is drawn. */
const IDLE_SHARE = 4;

/** On a slow computer less often, so that pedal and display never wait for the picture. Calling the answer ends it. */
export function drawAgainAndAgain(drawNow: () => void): () => void {
  let timer = setTimeout(again, PICTURE_MS);
  function again() {
    const beganMs = performance.now();
    drawNow();
    const tookMs = performance.now() - beganMs;
    timer = setTimeout(again, Math.max(PICTURE_MS, IDLE_SHARE * tookMs));
  }
  return () => clearTimeout(timer);
}

import { useEffect, useRef } from 'preact/hooks';
import type { GreyPicture } from '../../../darkroom/picture/grey.js';
import type { HeldBack } from './held-back.js';
import type { Rehearsal } from './rehearsal.js';
import { sheetPixels } from './sheet-under-light.js';

/** So often a lit sheet is worked out again. */
const PICTURE_MS = 200;
/** And for so many times as long as it took nothing is drawn. */
const IDLE_SHARE = 4;

interface Props {
  readonly rehearsal: Rehearsal;
}

/** The enlarger and the sheet under it, which grows dark where light falls. */
export function Easel({ rehearsal }: Props) {
  const on = rehearsal.lampOn.value;
  const hands = rehearsal.sheet.place.value && rehearsal.sheet.heldBack();
  return (
    <section class="easel" aria-labelledby="easel">
      <h2 id="easel">Under the enlarger</h2>
      <svg viewBox="0 0 300 74" aria-hidden="true" class={on ? 'lit' : 'dark'}>
        <path class="beam" d="M145 40 L2 74 H298 L155 40 Z" />
        <path class="thick" d="M118 4 H182 V24 H118 Z M132 24 V33 H168 V24 M142 33 V40 H158 V33" />
        <path class="rays" d="M138 18 L132 22 M150 19 V23 M162 18 L168 22" />
        <circle class="bulb" cx="150" cy="13" r="5" />
      </svg>
      <Sheet rehearsal={rehearsal} />
      <p>
        {on ? 'The lamp is on' : 'The lamp is off'}
        {hands !== undefined && ', hatched: hands or card hold the light back there'}
      </p>
    </section>
  );
}

function Sheet({ rehearsal }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { sheet } = rehearsal;
  const on = rehearsal.lampOn.value;
  const changes = sheet.changes.value;
  const place = sheet.place.value;
  const drawNow = () => draw(canvas.current!, sheet.picture(rehearsal.board.nowUs), sheet.heldBack());
  useEffect(() => {
    if (!on) drawNow();
  }, [on, changes, place]);
  useEffect(() => {
    if (!on) return;
    return drawAgainAndAgain(drawNow);
  }, [on]);
  const words = 'The sheet on the easel, as it would come out of the developer now';
  return <canvas ref={canvas} {...sheetPixels} role="img" aria-label={words} />;
}

/** On a slow computer less often, so that pedal and display never wait for the picture. Calling the answer ends it. */
function drawAgainAndAgain(drawNow: () => void): () => void {
  let timer = setTimeout(again, PICTURE_MS);
  function again() {
    const beganMs = performance.now();
    drawNow();
    const tookMs = performance.now() - beganMs;
    timer = setTimeout(again, Math.max(PICTURE_MS, IDLE_SHARE * tookMs));
  }
  return () => clearTimeout(timer);
}

/** As the safelight shows it: paper white is red. Hatched where hand or card are. */
function draw(canvas: HTMLCanvasElement, { width, height, pixels }: GreyPicture, held?: HeldBack): void {
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

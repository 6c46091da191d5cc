import { useEffect, useRef } from 'preact/hooks';
import type { GreyPicture } from '../../../darkroom/picture/render.js';
import type { Rehearsal } from './rehearsal.js';

/** So often a lit sheet is worked out again. */
const PICTURE_MS = 100;

interface Props {
  readonly rehearsal: Rehearsal;
}

/** The enlarger and the sheet under it, which grows dark where light falls. */
export function Easel({ rehearsal }: Props) {
  const on = rehearsal.lampOn.value;
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
      <p class="lamp">{on ? 'The lamp is on' : 'The lamp is off'}</p>
    </section>
  );
}

function Sheet({ rehearsal }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { sheet } = rehearsal;
  const on = rehearsal.lampOn.value;
  const changes = sheet.changes.value;
  useEffect(() => {
    if (!on) draw(canvas.current!, sheet.picture(rehearsal.board.nowUs));
  }, [on, changes]);
  useEffect(() => {
    if (!on) return;
    const timer = setInterval(() => draw(canvas.current!, sheet.picture(rehearsal.board.nowUs)), PICTURE_MS);
    return () => clearInterval(timer);
  }, [on]);
  return (
    <canvas
      ref={canvas}
      role="img"
      aria-label="The sheet on the easel, as it would come out of the developer"
    />
  );
}

/** As the safelight shows it: paper white is red. */
function draw(canvas: HTMLCanvasElement, { width, height, pixels }: GreyPicture): void {
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  const context = canvas.getContext('2d')!;
  const image = context.createImageData(width, height);
  for (let at = 0; at < pixels.length; at++) {
    image.data[4 * at] = pixels[at]!;
    image.data[4 * at + 3] = 255;
  }
  context.putImageData(image, 0, 0);
}

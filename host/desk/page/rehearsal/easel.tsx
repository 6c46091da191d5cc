import { useEffect, useRef } from 'preact/hooks';
import type { PaperKind } from './paper-kind.js';
import { drawAgainAndAgain, drawInRed } from './red-picture.js';
import type { Rehearsal } from './rehearsal.js';

interface Props {
  readonly rehearsal: Rehearsal;
}

/** The enlarger and the sheet under it, which grows dark where light falls. */
export function Easel({ rehearsal }: Props) {
  const on = rehearsal.lampOn.value;
  const { sheet } = rehearsal;
  const hands = sheet.given.place.value && sheet.heldBack();
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
        {sheet.kind.value.kind === 'test' && '; no negative is in it for this'}
      </p>
      <p>Drawn as dark as the light will make it; the paper itself stays white until the developer.</p>
    </section>
  );
}

const kindWords: Readonly<Record<PaperKind['kind'], string>> = {
  print: 'sheet',
  whole: 'sheet',
  strip: 'strip',
  test: 'test sheet',
};

function Sheet({ rehearsal }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { sheet } = rehearsal;
  const on = rehearsal.lampOn.value;
  const changes = sheet.given.changes.value;
  const place = sheet.given.place.value;
  const { kind } = sheet.kind.value;
  const drawNow = () => drawInRed(canvas.current!, sheet.picture(rehearsal.board.nowUs), sheet.heldBack());
  useEffect(() => {
    if (!on) drawNow();
  }, [on, changes, place, sheet, sheet.kind.value]);
  useEffect(() => {
    if (!on) return;
    return drawAgainAndAgain(drawNow);
  }, [on, sheet]);
  const words = `The ${kindWords[kind]} on the easel, as it would come out of the developer now`;
  return <canvas ref={canvas} width={480} height={320} role="img" aria-label={words} />;
}

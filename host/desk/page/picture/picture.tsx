import { useSignalEffect } from '@preact/signals';
import { useMemo, useRef } from 'preact/hooks';
import { PaperChoice } from '../paper/paper-choice.js';
import { paperInUse } from '../paper/paper-on-desk.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { AreaFields } from './area-fields.js';
import { AreasOnSheet } from './areas-on-sheet.js';
import { Beside } from './beside.js';
import { DensityWords, useDensities } from './density-words.js';
import { EaselBlades } from './easel-blades.js';
import { drawOn, Frames } from './frames.js';
import { FramingFields } from './framing-fields.js';
import { ink } from './ink.js';
import { LookChoices } from './look-choices.js';
import { type PictureOnDesk, pictureOf } from './picture-on-desk.js';
import { ScanChoice } from './scan-choice.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** The sheet as it would print, with the areas that hands and cards work on. */
export function Picture({ print }: Props) {
  const picture = pictureOf(print);
  const { densities, look, leave } = useDensities(picture);
  return (
    <section class="picture" aria-label="The picture">
      <ScanChoice picture={picture} />
      <LookChoices picture={picture} />
      <PaperChoice print={print} />
      <div class="sheets">
        <div class="sheet" onPointerMove={look} onPointerLeave={leave}>
          <Sheet picture={picture} />
          <AreasOnSheet picture={picture} />
          <EaselBlades picture={picture} />
        </div>
        <Beside picture={picture} />
      </div>
      <DensityWords densities={densities} />
      <AreaFields picture={picture} />
      <FramingFields picture={picture} />
    </section>
  );
}

function Sheet({ picture }: { readonly picture: PictureOnDesk }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const frames = useMemo(
    () =>
      new Frames(picture.making, (colours) => {
        if (canvas.current === null) return;
        drawOn(canvas.current, colours);
        picture.aspect.value = colours.width / colours.height;
        canvas.current.dataset.drawn = String(Number(canvas.current.dataset.drawn ?? 0) + 1);
      }),
    [picture],
  );
  useSignalEffect(() => {
    const [print, marked, right] = [picture.shown(), picture.marked.value, picture.right];
    picture.negatives.value;
    const paper = paperInUse.value?.figures;
    if (print && right) frames.want({ print, right, ink: ink(), marked, which: 'worked-on', paper });
  });
  return (
    <>
      <canvas ref={canvas} width="1200" height="800" role="img" aria-label="The sheet as it would print" />
      {frames.refusal.value !== '' && <p role="alert">No picture: {frames.refusal.value}</p>}
    </>
  );
}

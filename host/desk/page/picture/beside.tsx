import { useSignalEffect } from '@preact/signals';
import { useMemo, useRef } from 'preact/hooks';
import { shownText } from '../shell/shown-text.js';
import { drawOn, Frames } from './frames.js';
import { ink } from './ink.js';
import type { PictureOnDesk } from './picture-on-desk.js';

interface Props {
  readonly picture: PictureOnDesk;
}

/** The print as it was when it was laid beside, to be compared with. */
export function Beside({ picture }: Props) {
  if (picture.beside.value === undefined) return null;
  return <OtherSheet picture={picture} />;
}

function OtherSheet({ picture }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const frames = useMemo(
    () => new Frames(picture.making, (colours) => canvas.current && drawOn(canvas.current, colours)),
    [picture],
  );
  useSignalEffect(() => {
    const [print, marked, right] = [picture.beside.value, picture.marked.value, picture.right];
    picture.negatives.value;
    const paper = print?.paper?.figures;
    if (print && right) frames.want({ print, right, ink: ink(), marked, which: 'beside', paper });
  });
  const { recipe, paper } = picture.beside.value ?? {};
  return (
    <figure class="sheet">
      <canvas ref={canvas} width="1200" height="800" role="img" aria-label="The print laid beside" />
      <figcaption>
        laid beside: {shownText(recipe?.title ?? '')}, version {recipe?.version}, as it was
        {paper && `, on ${shownText(paper.name)}`}
      </figcaption>
    </figure>
  );
}

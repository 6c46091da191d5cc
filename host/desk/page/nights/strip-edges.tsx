import { useEffect, useRef } from 'preact/hooks';
import type { StripPicture } from '../../server/strips/told.js';
import { drawOn } from '../picture/frames.js';
import { ink } from '../picture/ink.js';
import type { Colours } from '../picture/print-maker.js';
import { followPointer } from '../shell/follow-pointer.js';
import { isDark } from '../shell/theme.js';
import type { StripOnDesk } from './strip-on-desk.js';

interface Props {
  readonly strip: StripOnDesk;
}

/** The page's red. */
const RED_OF_PAPER = 0xeb;
const KEY_PERCENT = 0.25;
const keys: Readonly<Record<string, number>> = {
  ArrowLeft: -KEY_PERCENT,
  ArrowUp: -KEY_PERCENT,
  ArrowRight: KEY_PERCENT,
  ArrowDown: KEY_PERCENT,
};

/** The strip's scan, and its edges to be dragged, or moved by the arrow keys. */
export function StripEdges({ strip }: Props) {
  const { picture, along, pixelsAlong } = strip.told.value!;
  const frame = useRef<HTMLDivElement>(null);
  const drag = (at: number) => (event: PointerEvent) => {
    if (event.button !== 0) return;
    event.preventDefault();
    const box = frame.current!.getBoundingClientRect();
    const placeOf = ({ clientX, clientY }: PointerEvent) =>
      along === 'x' ? (100 * clientX) / box.width : (100 * clientY) / box.height;
    let before = placeOf(event);
    followPointer((now) => {
      const by = placeOf(now) - before;
      before += by;
      strip.move(at, by);
    });
  };
  const point = ({ target, clientX, clientY }: MouseEvent) => {
    // One that was dragged ends with a click.
    if ((target as Element).closest('[role=slider]') !== null) return;
    const box = frame.current!.getBoundingClientRect();
    const place = [
      (100 * (clientX - box.left)) / box.width,
      (100 * (clientY - box.top)) / box.height,
    ] as const;
    void strip.readForGreyAt(strip.pixelsAt(place));
  };
  return (
    <div class="edges" ref={frame} {...(strip.pointing.value && { onClick: point })}>
      <Scan picture={picture} />
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing is no form */}
      <svg viewBox="0 0 100 100" preserveAspectRatio="none" role="group" aria-label="Edges of the patches">
        {strip.edges.value.map(({ px, from, to }, at) => (
          <g
            key={at}
            role="slider"
            tabindex={0}
            aria-label={`edge ${at + 1}`}
            aria-orientation={along === 'x' ? 'horizontal' : 'vertical'}
            aria-valuemin={0}
            aria-valuemax={pixelsAlong}
            aria-valuenow={px}
            aria-valuetext={`pixel ${px}`}
            onPointerDown={drag(at)}
            onKeyDown={(event) => {
              const by = keys[event.key];
              if (by === undefined) return;
              event.preventDefault();
              strip.move(at, by);
            }}
          >
            <path class="grasp" d={`M${from.join(' ')} L${to.join(' ')}`} />
            <path d={`M${from.join(' ')} L${to.join(' ')}`} />
          </g>
        ))}
      </svg>
    </div>
  );
}

/** From Base64 to the canvas' own: grey, or red on a dark page. */
function coloursOf({ width, height, codes }: StripPicture): Colours {
  const greys = Uint8Array.from(atob(codes), (letter) => letter.charCodeAt(0));
  const pixels = new Uint8ClampedArray(4 * greys.length);
  const red = ink() === 'red';
  greys.forEach((grey, at) => {
    pixels.set(red ? [Math.round((grey * RED_OF_PAPER) / 255), 0, 0, 255] : [grey, grey, grey, 255], 4 * at);
  });
  return { width, height, buffer: pixels.buffer };
}

function Scan({ picture }: { readonly picture: StripPicture }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const dark = isDark.value;
  useEffect(() => {
    if (canvas.current !== null) drawOn(canvas.current, coloursOf(picture));
  }, [picture, dark]);
  return <canvas ref={canvas} role="img" aria-label="The scan of the strip" />;
}

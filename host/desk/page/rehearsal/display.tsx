import { useEffect, useRef } from 'preact/hooks';
import type { Hands } from './hands.js';
import type { Rehearsal } from './rehearsal.js';

interface Props {
  readonly rehearsal: Rehearsal;
  readonly hands: Hands;
}

/** The four rows as the board shows them. A screen reader is told of the first alone, since others run with time. */
export function Display({ rehearsal, hands }: Props) {
  const frame = useRef<HTMLElement>(null);
  useEffect(() => {
    const turn = (event: WheelEvent) => hands.wheel(event);
    // By hand, since a wheel that the page listens to in passing cannot be kept from moving the page.
    frame.current!.addEventListener('wheel', turn, { passive: false });
    return () => frame.current?.removeEventListener('wheel', turn);
  }, [hands]);
  const [prompt, ...others] = rehearsal.rows;
  return (
    <section class="display" ref={frame} aria-label="Display">
      <p class="row" aria-live="polite">
        {prompt}
      </p>
      {others.map((row, index) => (
        <p class="row" key={index}>
          {row}
        </p>
      ))}
    </section>
  );
}

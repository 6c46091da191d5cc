import { useEffect, useRef } from 'preact/hooks';
import type { Hands } from './hands.js';
import type { Rehearsal } from './rehearsal.js';

interface Props {
  readonly rehearsal: Rehearsal;
  readonly hands: Hands;
}

/** What a screen reader's own way of pressing takes for the press. */
const PRESS_MS = 120;
const DEGREES_PER_CLICK = 18;

/** Pedal and knob, drawn, for the mouse and the finger; the keys do the same. */
export function Contacts({ rehearsal, hands }: Props) {
  return (
    <div class="contacts">
      <div>
        <PedalButton rehearsal={rehearsal} hands={hands} />
        <p>
          <kbd>Space</kbd> is the pedal: press, hold and let go as a foot does.
        </p>
      </div>
      <div>
        <KnobButton rehearsal={rehearsal} hands={hands} />
        <p>
          <kbd>←</kbd> <kbd>→</kbd> or the wheel turn the knob, <kbd>Enter</kbd> pushes it.
        </p>
      </div>
    </div>
  );
}

function PedalButton({ rehearsal, hands }: Props) {
  const down = rehearsal.pedalDown.value;
  return (
    <button type="button" class="contact" {...pressing((to) => hands.pedal(to))}>
      <svg viewBox="0 0 120 60" aria-hidden="true">
        <path d="M8 52 H112" class="thick" />
        <path d={down ? 'M14 46 L104 40' : 'M14 46 L104 16'} class="plate" />
        <circle cx="16" cy="47" r="4" class="solid" />
      </svg>
      Pedal
    </button>
  );
}

function KnobButton({ rehearsal, hands }: Props) {
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    const turn = (event: WheelEvent) => hands.wheel(event);
    button.current!.addEventListener('wheel', turn, { passive: false });
    return () => button.current?.removeEventListener('wheel', turn);
  }, [hands]);
  const down = rehearsal.knobDown.value;
  const degrees = rehearsal.knobClicks.value * DEGREES_PER_CLICK;
  return (
    <button type="button" class="contact" ref={button} {...pressing((to) => hands.push(to))}>
      <svg viewBox="0 0 120 60" aria-hidden="true">
        <circle cx="60" cy="30" r={down ? 20 : 24} class="thick" />
        <path d="M60 24 V9" class="thick" transform={`rotate(${degrees} 60 30)`} />
      </svg>
      Knob
    </button>
  );
}

/** Down with the finger, up with it wherever it is by then; and a press for whoever can only say that they press. */
function pressing(press: (down: boolean) => void) {
  return {
    onPointerDown: (event: PointerEvent) => {
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      press(true);
    },
    onPointerUp: () => press(false),
    onPointerCancel: () => press(false),
    onClick: (event: MouseEvent) => {
      if (event.detail !== 0) return;
      press(true);
      setTimeout(() => press(false), PRESS_MS);
    },
  };
}

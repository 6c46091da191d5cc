import { useEffect, useRef } from 'preact/hooks';
import { newStep } from '../print/print-on-desk.js';
import { followPointer } from '../shell/follow-pointer.js';
import { TypedField } from './typed-field.js';

interface Props {
  readonly label: string;
  readonly value: number;
  format(value: number): string;
  /** @throws UnreadableText with words for the person */
  read(text: string): number;
  /** So many clicks on from a value, upwards; undefined where that cannot be. */
  turned(from: number, clicks: number): number | undefined;
  take(value: number, step: string): void;
  readonly quiet?: boolean;
}

const FAST = 3;
const clicksOf: Readonly<Record<string, number>> = {
  ArrowUp: 1,
  ArrowDown: -1,
  PageUp: FAST,
  PageDown: -FAST,
};
/** Less is a click into the field. */
const DRAG_BEGINS_PX = 6;
const PX_A_CLICK = 8;

/** A number that is typed, or turned by arrow keys, by the wheel while it has the keys, or by dragging up and down. */
export function TurnedField({ label, value, format, read, turned, take, quiet }: Props) {
  const turning = useRef(new Turning());
  const field = useRef<HTMLSpanElement>(null);
  const turn = (clicks: number) => turning.current.turn(value, clicks, turned, take);
  useEffect(() => {
    const input = field.current!.querySelector('input')!;
    // Only one that was not asked to be passive may keep the page from scrolling.
    const onWheel = (event: WheelEvent) => {
      if (document.activeElement !== input || event.deltaY === 0) return;
      event.preventDefault();
      turn(event.deltaY < 0 ? 1 : -1);
    };
    input.addEventListener('wheel', onWheel, { passive: false });
    return () => input.removeEventListener('wheel', onWheel);
  });
  return (
    <span class="turned" ref={field}>
      <TypedField
        label={label}
        quiet={quiet ?? false}
        text={format(value)}
        read={read}
        take={(typed) => take(typed, newStep(label))}
        onBlur={() => turning.current.end()}
        onKeyDown={(event) => {
          const way = clicksOf[event.key];
          if (way === undefined) return;
          event.preventDefault();
          turn(event.shiftKey ? way * FAST : way);
        }}
        more={{
          role: 'spinbutton',
          'aria-valuenow': value,
          'aria-valuetext': format(value),
          onPointerDown: ({ clientY }) => {
            turning.current.end();
            followDrag(clientY, (clicks) => turning.current.turnTo(value, clicks, turned, take));
          },
        }}
      />
    </span>
  );
}

/** Turning back and forth ends where it began: clicks are counted from the value that it began with. */
class Turning {
  #from = 0;
  #clicks = 0;
  #last: number | undefined;
  #step = '';

  end(): void {
    this.#last = undefined;
  }

  turn(value: number, clicks: number, turned: Props['turned'], take: Props['take']): void {
    if (this.#last !== value) this.#begin(value);
    this.turnTo(this.#from, this.#clicks + clicks, turned, take);
  }

  turnTo(value: number, clicks: number, turned: Props['turned'], take: Props['take']): void {
    if (this.#last === undefined) this.#begin(value);
    const to = turned(this.#from, clicks);
    if (to === undefined) return;
    this.#clicks = clicks;
    this.#last = to;
    take(to, this.#step);
  }

  #begin(value: number): void {
    this.#from = value;
    this.#clicks = 0;
    this.#last = value;
    this.#step = newStep('turn');
  }
}

function followDrag(fromY: number, turnTo: (clicks: number) => void): void {
  let begun = false;
  followPointer(({ clientY }) => {
    begun ||= Math.abs(clientY - fromY) >= DRAG_BEGINS_PX;
    if (begun) turnTo(Math.round((fromY - clientY) / PX_A_CLICK));
  });
}

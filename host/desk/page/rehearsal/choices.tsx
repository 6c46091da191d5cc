import { leftAfterPointer } from '../shell/left-after-pointer.js';
import type { Beginning, Rehearsal } from './rehearsal.js';

const speeds = [1, 2, 5, 10, 30];
const beginnings: Readonly<Record<Beginning, string>> = {
  sent: 'with the print sent to it',
  fresh: 'fresh from its box',
};

interface Props {
  readonly rehearsal: Rehearsal;
}

/** What is chosen about a rehearsal. After the mouse, or Escape, the keys are pedal and knob again. */
export function Choices({ rehearsal }: Props) {
  const { sounder, speed, beginning } = rehearsal;
  return (
    <form class="choices" onSubmit={(event) => event.preventDefault()} {...leftAfterPointer()}>
      <label>
        board
        <select
          value={beginning.value}
          onChange={({ currentTarget }) => void rehearsal.begin(currentTarget.value as Beginning)}
        >
          {Object.entries(beginnings).map(([value, words]) => (
            <option value={value} key={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        speed
        <select
          value={String(speed.value)}
          onChange={({ currentTarget }) => rehearsal.runAt(Number(currentTarget.value))}
        >
          {speeds.map((times) => (
            <option value={String(times)} key={times}>
              {times === 1 ? 'as it is' : `${times} times`}
            </option>
          ))}
        </select>
      </label>
      <label class="tick">
        <input
          type="checkbox"
          checked={sounder.on.value}
          onChange={({ currentTarget }) => sounder.turn(currentTarget.checked)}
        />
        tones
      </label>
      <button type="button" onClick={() => void rehearsal.begin(beginning.value)}>
        Begin again
      </button>
    </form>
  );
}

import { useState } from 'preact/hooks';
import { seconds } from '../../../figures.js';
import { loadPlanner, type StripPlan } from '../../../recipe/planner/index.js';
import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';

interface Props {
  readonly print: PrintOnDesk;
  readonly plan: StripPlan;
}

/** What was seen on the strip in the tray becomes the base. A time of one's own is typed as the base. */
export function PatchThatWasRight({ print, plan }: Props) {
  const readings = readingsOf(plan);
  // The patch of the base that there is: nothing changes unless another was right.
  const [chosen, setChosen] = useState(2 * Math.floor((plan.patches.length - 1) / 2));
  const reading = readings[chosen] ?? readings[0]!;
  const take = () => print.change({ ...print.recipe.value, baseMs: reading.baseMs }, newStep('base'));
  return (
    <p class="buttons">
      <label>
        what was right{' '}
        <select value={chosen} onChange={({ currentTarget }) => setChosen(Number(currentTarget.value))}>
          {readings.map(({ words, baseMs }, at) => (
            <option value={at} key={words}>
              {words}, {seconds(baseMs)}
            </option>
          ))}
        </select>
      </label>
      <button type="button" onClick={take}>
        Make it the base
      </button>
    </p>
  );
}

interface Reading {
  readonly words: string;
  readonly baseMs: number;
}

/** A patch, or half-way in stops from it to the next one, as the board reads a strip. */
function readingsOf({ patches }: StripPlan): Reading[] {
  const planner = loadPlanner();
  return patches.flatMap(({ patch, doseMs }, at) => {
    const next = patches[at + 1];
    const right = { words: `patch ${patch}`, baseMs: doseMs };
    if (next === undefined) return [right];
    const halfWay120 = Math.floor(planner.stopsBetween120(doseMs, next.doseMs) / 2);
    const between = planner.timeAtStopsMs(doseMs, halfWay120)!;
    return [right, { words: `between ${patch} and ${next.patch}`, baseMs: between }];
  });
}

import { useState } from 'preact/hooks';
import { limits } from '../../../../shared-protocol/limits.js';
import { stripAdvice } from '../../../daylight/advice.js';
import { seconds } from '../../../figures.js';
import { minus } from '../../../pages/map/work.js';
import { formatStops } from '../../../recipe/index.js';
import { loadPlanner, PlanError, type StripRequest } from '../../../recipe/planner/index.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { hasServer } from '../server-link.js';
import { sentence } from '../shell/shown-text.js';
import { AdviceList } from './advice-list.js';
import { PatchThatWasRight } from './patch-that-was-right.js';
import { StripToBoard } from './strip-to-board.js';

const steps120 = [60, 40, 30, 20];
const STEP120 = 40;
const PATCHES = 7;

interface Props {
  readonly print: PrintOnDesk;
}

/** The strip that would find the base: as many patches lighter as darker. */
export function StripToBase({ print }: Props) {
  const [step120, setStep120] = useState(STEP120);
  const [patches, setPatches] = useState(PATCHES);
  const counts = Array.from({ length: limits.stripPatches - 2 }, (_, at) => at + 3);
  return (
    <details class="strip">
      <summary>The strip that would find the base</summary>
      <p class="buttons">
        <label>
          step{' '}
          <select value={step120} onChange={({ currentTarget }) => setStep120(Number(currentTarget.value))}>
            {steps120.map((each) => (
              <option value={each} key={each}>
                {formatStops(each).slice(1)} stop
              </option>
            ))}
          </select>
        </label>
        <label>
          patches{' '}
          <select value={patches} onChange={({ currentTarget }) => setPatches(Number(currentTarget.value))}>
            {counts.map((each) => (
              <option value={each} key={each}>
                {each}
              </option>
            ))}
          </select>
        </label>
      </p>
      <Strip print={print} step120={step120} patches={patches} />
    </details>
  );
}

interface StripProps extends Props {
  readonly step120: number;
  readonly patches: number;
}

function Strip({ print, step120, patches }: StripProps) {
  const found = planned(print.recipe.value.baseMs, step120, patches);
  if ('refusal' in found)
    return (
      <p class="fault" role="alert">
        {found.refusal}
      </p>
    );
  const { plan, request } = found;
  const middle = Math.floor((patches - 1) / 2);
  return (
    <>
      <table>
        <thead>
          <tr>
            {['patch', 'all its light', 'from the base', 'give'].map((head) => (
              <th scope="col" class="number" key={head}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {plan.patches.map(({ patch, doseMs }, at) => (
            <tr key={patch}>
              <td class="number">{patch}</td>
              <td class="number">{seconds(doseMs)}</td>
              <td class="number">{minus(formatStops((at - middle) * step120))}</td>
              <td class="number">{seconds(plan.exposures[at]!.doseMs)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="key">
        The whole strip gets the first light; then cover it patch by patch, the lightest first.
      </p>
      <AdviceList advice={stripAdvice(plan)} />
      {hasServer() && <StripToBoard print={print} request={request} />}
      <PatchThatWasRight print={print} plan={plan} />
    </>
  );
}

function planned(baseMs: number, step120: number, patches: number) {
  const planner = loadPlanner();
  const firstMs = planner.timeAtStopsMs(baseMs, -step120 * Math.floor((patches - 1) / 2));
  if (firstMs === undefined)
    return { refusal: 'The base is too short for so wide a strip: take a smaller step' };
  const request: StripRequest = { firstMs, step: { stops120: step120 }, patches, cover: 'cumulative' };
  try {
    return { plan: planner.planStrip(request), request };
  } catch (error) {
    if (error instanceof PlanError) return { refusal: sentence(`${error.message}; ${error.wayOut}`) };
    throw error;
  }
}

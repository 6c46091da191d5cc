import { hundredths, seconds } from '../../../figures.js';
import type { StripTold } from '../../server/strips/told.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { sentence } from '../shell/shown-text.js';
import type { LookingBack } from './looking-back.js';
import { OntoDesk } from './onto-desk.js';

interface Props {
  readonly looking: LookingBack;
  readonly print: PrintOnDesk;
  readonly told: StripTold;
}

/** What a strip tells: exposures, range, and whether the eye in the dark was right. */
export function StripFigures({ looking, print, told }: Props) {
  const { baseMs, lowMs, highMs, whiteWithTone, fullBlack, isoR, tone, filmTie } = told;
  const base = baseMs === null ? null : { ms: baseMs, lowMs: lowMs!, highMs: highMs! };
  return (
    <>
      <table>
        <thead>
          <tr>
            <th scope="col">exposure for</th>
            <th scope="col" class="number">
              time
            </th>
            <th scope="col">95 of 100 lie from</th>
            <th scope="col">to</th>
          </tr>
        </thead>
        <tbody>
          <Exposure what={`${tone!.toFixed(2)} above paper white`} of={base} />
          <Exposure what="faintest tone, 0.04 above white" of={whiteWithTone} />
          <Exposure what="full black, 90 % of the deepest" of={fullBlack} />
        </tbody>
      </table>
      {isoR !== null && (
        <p>
          ISO range R{Math.round(isoR.value)}, from R{Math.round(isoR.low)} to R{Math.round(isoR.high)} in 95
          of 100 cases.
        </p>
      )}
      <Chosen told={told} />
      {base !== null && <OntoDesk {...{ looking, print, filmTie }} baseMs={base.ms} inLog={told.filter} />}
    </>
  );
}

interface ExposureProps {
  readonly what: string;
  readonly of: { readonly ms: number; readonly lowMs: number; readonly highMs: number } | null;
}

function Exposure({ what, of }: ExposureProps) {
  return (
    <tr>
      <td>{what}</td>
      <td class="number">{of === null ? 'not on this strip' : seconds(of.ms)}</td>
      <td>{of === null ? '' : seconds(of.lowMs)}</td>
      <td>{of === null ? '' : seconds(of.highMs)}</td>
    </tr>
  );
}

/** Against what was taken in the dark, wet and by safelight. */
function Chosen({ told: { chosenMs, baseMs, lowMs, highMs } }: { readonly told: StripTold }) {
  if (chosenMs === null || baseMs === null) return null;
  const agrees = chosenMs >= lowMs! && chosenMs <= highMs!;
  const by = hundredths(Math.round(100 * Math.log2(baseMs / chosenMs)));
  return (
    <p>
      {sentence(
        `in the dark ${seconds(chosenMs)} was chosen: the scan ${agrees ? 'agrees' : 'disagrees'}, by ${by} stop.`,
      )}
    </p>
  );
}

import { orderOfWork, type WorkLine } from '../../../pages/map/work.js';
import { formatTime } from '../../../recipe/index.js';
import { shownText } from '../shell/shown-text.js';
import { keyOf } from './place.js';
import type { Rehearsal } from './rehearsal.js';

interface Props {
  readonly rehearsal: Rehearsal;
}

/** The order of work as the printing map has it. */
export function OrderOfWork({ rehearsal }: Props) {
  if (rehearsal.beginning.value === 'fresh') return null;
  const { recipe, plan } = rehearsal.print;
  const place = rehearsal.sheet.placeInPrint;
  const now = place && keyOf(place);
  return (
    <section aria-labelledby="work">
      <h2 id="work">
        {shownText(recipe.title)} <span class="base">base {formatTime(recipe.baseMs)}</span>
      </h2>
      <table>
        <thead>
          <tr>
            <th scope="col">work</th>
            <th scope="col">filter</th>
            <th scope="col" class="number">
              stops
            </th>
            <th scope="col" class="number">
              light
            </th>
          </tr>
        </thead>
        <tbody>
          {placed(orderOfWork(recipe, plan)).map(({ line, key }) => (
            <Line line={line} isNow={key === now} key={key} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

interface PlacedLine {
  readonly line: WorkLine;
  readonly key: string;
}

/** Each line with its place in the plan; a pass with dodges in it is none, its pieces are. */
function placed(lines: readonly WorkLine[]): PlacedLine[] {
  let pass = -1;
  let piece = 0;
  return lines.map((line, index) => {
    if (line.level === 'segment') return { line, key: keyOf({ pass, piece: piece++ }) };
    pass++;
    piece = 0;
    return { line, key: lines[index + 1]?.level === 'segment' ? `${pass}` : keyOf({ pass, piece }) };
  });
}

function Line({ line, isNow }: { readonly line: WorkLine; readonly isNow: boolean }) {
  return (
    <tr class={line.level} aria-current={isNow ? 'step' : undefined}>
      <td>
        {line.area && <span class={`mark ${line.area.kind}`}>{line.area.number}</span>}
        {shownText(line.what)}
        {line.pedalFirst && <span class="pedal" aria-label="the lamp waits for the pedal" role="img" />}
      </td>
      <td>{shownText(line.filter)}</td>
      <td class="number">{line.stops}</td>
      <td class="number">{formatTime(line.doseMs)}</td>
    </tr>
  );
}

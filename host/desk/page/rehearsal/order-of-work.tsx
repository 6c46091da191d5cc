import { orderOfWork, type WorkLine } from '../../../pages/map/work.js';
import { formatTime } from '../../../recipe/index.js';
import type { Rehearsal } from './rehearsal.js';

interface Props {
  readonly rehearsal: Rehearsal;
}

/** The order of work as the printing map has it. */
export function OrderOfWork({ rehearsal }: Props) {
  if (rehearsal.beginning.value === 'fresh') return null;
  const { recipe, plan } = rehearsal.print;
  return (
    <section aria-labelledby="work">
      <h2 id="work">
        {recipe.title} <span class="base">base {formatTime(recipe.baseMs)}</span>
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
          {orderOfWork(recipe, plan).map((line, index) => (
            <Line line={line} key={index} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Line({ line }: { readonly line: WorkLine }) {
  return (
    <tr class={line.level}>
      <td>
        {line.area && <span class={`mark ${line.area.kind}`}>{line.area.number}</span>}
        {line.what}
        {line.pedalFirst && <span class="pedal" aria-label="the lamp waits for the pedal" role="img" />}
      </td>
      <td>{line.filter}</td>
      <td class="number">{line.stops}</td>
      <td class="number">{formatTime(line.doseMs)}</td>
    </tr>
  );
}

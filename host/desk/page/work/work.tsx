import { orderOfWork } from '../../../pages/map/work.js';
import { formatTime } from '../../../recipe/index.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** The order of work, as it will be carried out. */
export function Work({ print }: Props) {
  const planned = print.planned.value;
  return (
    <section aria-labelledby="work">
      <h2 id="work">The order of work</h2>
      {'refusal' in planned ? (
        <p role="alert">{planned.refusal}</p>
      ) : (
        <ol>
          {orderOfWork(print.recipe.value, planned.plan).map(({ what, stops, doseMs }) => (
            <li key={what}>
              {what} {stops} {formatTime(doseMs)}
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

import { PaperChoice } from '../paper/paper-choice.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import type { LookingBack } from './looking-back.js';
import { SheetPicture } from './sheet-picture.js';

interface Props {
  readonly looking: LookingBack;
  readonly print: PrintOnDesk;
}

/** Two prints beside each other, each as it was given. */
export function Compared({ looking, print }: Props) {
  const { first, second, changes } = looking.compared.value!;
  return (
    <section aria-labelledby="compared">
      <h2 id="compared">
        {first} and {second}
      </h2>
      <div class="pictures">
        {looking.comparedSheets.map((sheet) => (
          <figure key={sheet.name}>
            <SheetPicture sheet={sheet} print={print} />
            <figcaption>{sheet.name}</figcaption>
          </figure>
        ))}
      </div>
      <PaperChoice print={print} />
      <table>
        <thead>
          <tr>
            <th> of the print</th>
            <th class="number">{first}</th>
            <th class="number">{second}</th>
            <th class="number">change</th>
          </tr>
        </thead>
        <tbody>
          {changes.map((one) => (
            <tr key={one.what}>
              <td>{one.what}</td>
              <td class="number">{one.first}</td>
              <td class="number">{one.second}</td>
              <td class="number">{changeWords(one.stops100)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        <button type="button" onClick={() => looking.leaveCompared()}>
          Back
        </button>
      </p>
    </section>
  );
}

function changeWords(stops100: number | undefined): string {
  if (stops100 === undefined) return '';
  return stops100 === 0 ? 'same' : `${stopsText(stops100)} stop`;
}

/** 25 -> '+0.25'. */
export function stopsText(stops100: number): string {
  return `${stops100 < 0 ? '\u2212' : '+'}${(Math.abs(stops100) / 100).toFixed(2)}`;
}

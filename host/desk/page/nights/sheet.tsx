import type { LightTold, SheetTold } from '../../server/nights/told.js';
import { PaperChoice } from '../paper/paper-choice.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { Actions } from './actions.js';
import { stopsText } from './compared.js';
import type { LookingBack } from './looking-back.js';
import { timeWords } from './night-words.js';
import { Remarks } from './remarks.js';
import { SheetPicture } from './sheet-picture.js';
import { StripScan } from './strip-scan.js';

interface Props {
  readonly looking: LookingBack;
  readonly print: PrintOnDesk;
  readonly sheet: SheetTold;
}

/** A sheet of paper: what it got, what was changed for it, and what is thought of it. */
export function Sheet({ looking, print, sheet }: Props) {
  const { name, at, what, title, lacking, lights, isPrint, isStrip } = sheet;
  return (
    <article aria-label={`Sheet ${name}`}>
      <h3>
        <span class="mark">{sheet.sheet}</span> {title === '' ? what : title}{' '}
        <span class="side">{timeWords(at)}</span>
      </h3>
      {title !== '' && <p>{what}</p>}
      {lacking !== '' && <p>{lacking}</p>}
      <Lights lights={lights} name={name} />
      <Since sheet={sheet} />
      {isPrint && <Lines of={sheet.differences} before="As it was given, against the recipe: " />}
      <Lines of={sheet.unknown} before="Not known: " />
      <SheetPicture sheet={sheet} print={print} />
      {isStrip && <StripScan {...{ looking, print, sheet }} />}
      {isPrint && <PaperChoice print={print} />}
      {isPrint && <Actions {...{ looking, print, sheet }} />}
      <Remarks looking={looking} sheet={sheet} />
    </article>
  );
}

function Lines({ of, before }: { readonly of: readonly string[]; readonly before: string }) {
  return of.length === 0 ? null : (
    <p>
      {before}
      {of.join('; ')}.
    </p>
  );
}

function Lights({ lights, name }: { readonly lights: readonly LightTold[]; readonly name: string }) {
  if (lights.length === 0) return <p>No light is in the log.</p>;
  return (
    <table aria-label={`Light on sheet ${name}`}>
      <thead>
        <tr>
          <th>light</th>
          <th>filter</th>
          <th class="number">planned</th>
          <th class="number">given</th>
          <th>end</th>
        </tr>
      </thead>
      <tbody>
        {lights.map(({ what, filter, plannedMs, givenMs, outcome }, index) => (
          <tr key={index}>
            <td>{what}</td>
            <td>{filter}</td>
            <td class="number">{secondsText(plannedMs)}</td>
            <td class="number">{secondsText(givenMs)}</td>
            <td>{outcome === 'complete' ? '' : outcome}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function secondsText(ms: number): string {
  return `${(ms / 1000).toFixed(1)} s`;
}

/** What the printer did differently, in stops. */
function Since({ sheet: { since, cut } }: Pick<Props, 'sheet'>) {
  if (cut !== undefined)
    return (
      <p>
        The power failed while {cut.what}, was given: no log tells how much of its{' '}
        {secondsText(cut.plannedMs)} fell.
      </p>
    );
  if (since === undefined) return null;
  if (since.changes.length === 0) return <p>Given as {since.name} was.</p>;
  return (
    <dl>
      <div>
        <dt>against</dt>
        <dd>{since.name}</dd>
      </div>
      {since.changes.map(({ what, first, second, stops100 }) => (
        <div key={what}>
          <dt>{what}</dt>
          <dd>{stops100 === undefined ? `${first} to ${second}` : `${stopsText(stops100)} stop`}</dd>
        </div>
      ))}
    </dl>
  );
}

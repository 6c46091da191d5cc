import { useSignal } from '@preact/signals';
import { stripFilter } from '../../../daylight/papers/strip-filter.js';
import { seconds } from '../../../figures.js';
import type { Recipe } from '../../../recipe/recipe.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import type { StripTold } from '../../server/strips/told.js';
import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import type { LookingBack } from './looking-back.js';
import { lacksFilter, ThroughFilter } from './through-filter.js';

interface Props {
  readonly looking: LookingBack;
  readonly print: PrintOnDesk;
  readonly baseMs: number;
  readonly filmTie: StripTold['filmTie'];
  /** The strip's filter, by which film and light are tied; empty where the log names none. */
  readonly inLog: string;
}

/** What was read goes to the print on the desk. */
export function OntoDesk({ looking, print, baseMs, filmTie, inLog }: Props) {
  const said = useSignal('');
  const title = () => `'${shownText(print.recipe.value.title)}'`;
  const take = (what: Partial<Recipe>, step: string, words: string) => {
    try {
      const tie = filmTie && { filmTie: { ...filmTie, filter: stripFilter(said.value || undefined, inLog) } };
      print.change({ ...print.recipe.value, ...what, ...tie }, newStep(step));
      looking.came.value = words;
      looking.trouble.value = '';
    } catch (error) {
      if (!(error instanceof UnreadableText)) throw error;
      looking.trouble.value = `through filter: ${error.message}`;
    }
  };
  const isLacking = filmTie !== null && lacksFilter({ inLog, said });
  return (
    <p class="actions">
      {filmTie !== null && <ThroughFilter inLog={inLog} said={said} />}
      <button
        type="button"
        disabled={isLacking}
        onClick={() => take({ baseMs }, 'base', `${seconds(baseMs)} is the base of ${title()} on the desk.`)}
      >
        Make {seconds(baseMs)} the base of the print on the desk
      </button>
      {filmTie !== null && (
        <button
          type="button"
          disabled={isLacking}
          onClick={() =>
            take({}, 'film and light', `${title()} keeps what the strip told of film and light.`)
          }
        >
          Keep in it only what strip and negative told of film and light
        </button>
      )}
    </p>
  );
}

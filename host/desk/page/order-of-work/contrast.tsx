import { useState } from 'preact/hooks';
import {
  baseAfterContrast,
  type ContrastAdvice,
  contrastFromStrip,
} from '../../../daylight/contrast/contrast.js';
import { standardGrades } from '../../../daylight/contrast/grade-table.js';
import { filterText, isSameFilter, knownFilter } from '../../../daylight/filters/filter-table.js';
import { contrastWords } from '../../../daylight/revise/account-words.js';
import { seconds } from '../../../figures.js';
import { type Recipe, readExposure } from '../../../recipe/index.js';
import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import { FigureField, FilterField, readFigure, readNumber, useFigures } from './figure-field.js';
import { filterTable } from './filter-table.js';
import { OutcomeWords, useOutcome } from './outcome.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** What the advice comes to for the print. */
interface Offer {
  readonly from: string;
  readonly filter: string;
  readonly baseMs: number;
}

/** Which contrast the negative needs, by a strip on which highlights and shadows were read. */
export function Contrast({ print }: Props) {
  const { filter: first = '' } = print.recipe.value.passes.find(({ kind }) => kind === 'base') ?? {};
  const { figures, field } = useFigures({
    filter: knownFilter(filterTable.peek(), first)?.filter ?? '',
    range: '',
    highlight: '',
    shadow: '',
  });
  const [offer, setOffer] = useState<Offer | undefined>(undefined);
  const { outcome, attempt } = useOutcome();
  const range = figures.range || String(knownFilter(filterTable.value, figures.filter)?.rangeR ?? '');
  const advise = () => {
    setOffer(undefined);
    const reading = {
      rangeR: readFigure('range of the paper', range, readNumber),
      highlightMs: readFigure('highlights', figures.highlight, readExposure),
      shadowMs: readFigure('shadows', figures.shadow, readExposure),
    };
    const advice = contrastFromStrip(reading, { grades: standardGrades, filters: filterTable.value });
    if (advice.filter === undefined) return adviceLines(advice);
    const to = advice.filter.filter;
    const baseMs = baseAfterContrast(reading, filterTable.value, figures.filter, to);
    setOffer({ from: figures.filter, filter: to, baseMs });
    return adviceLines(advice, baseMs);
  };
  return (
    <fieldset>
      <legend>The contrast, by a strip</legend>
      <div class="figures">
        <FilterField label="strip through" {...field('filter')} />
        <FigureField label="ISO range R of the paper through it" placeholder={range} {...field('range')} />
        <FigureField label="highlights right at" placeholder="8s" {...field('highlight')} />
        <FigureField label="shadows right at" placeholder="12s" {...field('shadow')} />
        <button type="button" onClick={() => void attempt(advise)}>
          Advise
        </button>
      </div>
      <OutcomeWords {...outcome} />
      {offer !== undefined && (
        <button
          type="button"
          onClick={() => print.change(withContrast(print.recipe.value, offer), newStep('contrast'))}
        >
          Take {shownText(filterText(offer.filter))} and {seconds(offer.baseMs)} as the base
        </button>
      )}
    </fieldset>
  );
}

export function adviceLines(advice: ContrastAdvice, baseMs?: number): string[] {
  return [...contrastWords(advice, baseMs), ...advice.cautions.map(({ text }) => text)];
}

/** Base passes through the strip's filter get the new one; burns through others stay as they are. */
function withContrast(recipe: Recipe, { from, filter, baseMs }: Offer): Recipe {
  const passes = recipe.passes.map((pass) =>
    pass.kind === 'base' && isSameFilter(pass.filter, from) ? { ...pass, filter } : pass,
  );
  return { ...recipe, baseMs, passes };
}

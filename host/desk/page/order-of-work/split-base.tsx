import { filterEntry } from '../../../daylight/filters/filter-table.js';
import { splitWords } from '../../../daylight/revise/account-words.js';
import { splitRecipe } from '../../../daylight/revise/split-recipe.js';
import { readExposure } from '../../../recipe/index.js';
import { loadPlanner } from '../../../recipe/planner/index.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { FigureField, FilterField, readFigure, useFigures } from './figure-field.js';
import { filterTable } from './filter-table.js';
import { OutcomeWords, useOutcome } from './outcome.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** A base in two passes, soft and hard, from two strips. */
export function SplitBase({ print }: Props) {
  const { figures, field } = useFigures({ softFilter: '00', soft: '', hardFilter: '5', hard: '' });
  const { outcome, attempt } = useOutcome();
  const split = () => {
    const light = (label: string, wanted: string, time: string) => {
      const { filter, rangeR } = filterEntry(filterTable.value, wanted);
      return { filter, rangeR, doseMs: readFigure(label, time, readExposure) };
    };
    const strips = {
      soft: light('highlights', figures.softFilter, figures.soft),
      hard: light('shadows', figures.hardFilter, figures.hard),
    };
    let lines: readonly string[] = [];
    print.revise((recipe, at) => {
      const made = splitRecipe(loadPlanner(), recipe, strips, at);
      lines = splitWords(made.account);
      return made.recipe;
    });
    return lines;
  };
  return (
    <fieldset>
      <legend>Split the base, soft and hard</legend>
      <div class="figures">
        <FilterField label="soft" {...field('softFilter')} />
        <FigureField label="highlights right at" placeholder="8s" {...field('soft')} />
        <FilterField label="hard" {...field('hardFilter')} />
        <FigureField label="on top, shadows right at" placeholder="12s" {...field('hard')} />
        <button type="button" onClick={() => void attempt(split)}>
          Split it
        </button>
      </div>
      <OutcomeWords {...outcome} />
    </fieldset>
  );
}

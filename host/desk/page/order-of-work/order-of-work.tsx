import { recipeAdvice } from '../../../daylight/advice.js';
import { filterAdvice } from '../../../daylight/filters/filter-advice.js';
import { seconds } from '../../../figures.js';
import { loadPlanner, type RecipePlan } from '../../../recipe/planner/index.js';
import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';
import { AdviceList } from './advice-list.js';
import { withNewPass } from './edits.js';
import { Faults } from './faults.js';
import { filterTable } from './filter-table.js';
import { FiltersAndContrast } from './filters-and-contrast.js';
import { Head } from './head.js';
import { LampLine } from './lamp-line.js';
import { PassLine } from './pass-line.js';
import { StripToBase } from './strip-to-base.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** The order of work, as it will be carried out. */
export function Work({ print }: Props) {
  const { passes } = print.recipe.value;
  const planned = print.planned.value;
  const plan = 'plan' in planned ? planned.plan : undefined;
  return (
    <section class="work" aria-labelledby="work">
      <h2 id="work">The order of work</h2>
      <Head print={print} />
      <Faults print={print} />
      <Heads />
      <ol class="passes">
        {passes.map((pass, at) => (
          <PassLine key={at} print={print} at={at} pass={pass} planned={plan?.passes[at]} />
        ))}
      </ol>
      <p class="buttons">
        {(['base', 'burn'] as const).map((kind) => (
          <button
            type="button"
            key={kind}
            onClick={() => print.change(withNewPass(print.recipe.value, kind), newStep(kind))}
          >
            Add a {kind === 'base' ? 'base pass' : 'burn'}
          </button>
        ))}
      </p>
      <datalist id="filters">
        {filterTable.value.filters.map(({ filter }) => (
          <option value={filter} key={filter} />
        ))}
      </datalist>
      {plan && <Carried plan={plan} />}
      <StripToBase print={print} />
      <FiltersAndContrast print={print} />
    </section>
  );
}

/** For the eye: each field says what it is by itself. */
function Heads() {
  return (
    <div class="heads" aria-hidden="true">
      {['area', 'filter', 'stops', 'light'].map((head) => (
        <span key={head}>{head}</span>
      ))}
    </div>
  );
}

/** What comes of it: the lamp's time, and what a careful colleague would say. */
function Carried({ plan }: { readonly plan: RecipePlan }) {
  const planner = loadPlanner();
  return (
    <>
      <h3>
        The lamp <span class="aside">{seconds(plan.totalMs)} of light in all</span>
      </h3>
      <LampLine plan={plan} />
      <AdviceList
        advice={[...recipeAdvice(planner, plan), ...filterAdvice(planner, filterTable.value, plan)]}
      />
    </>
  );
}

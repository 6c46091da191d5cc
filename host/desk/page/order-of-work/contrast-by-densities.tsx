import { contrastAdvice } from '../../../daylight/contrast/contrast.js';
import { type NegativeReadings, neededRangeFromDensities } from '../../../daylight/contrast/densitometer.js';
import { standardGrades } from '../../../daylight/contrast/grade-table.js';
import { adviceLines } from './contrast.js';
import { FigureField, readFigure, readNumber, useFigures } from './figure-field.js';
import { filterTable } from './filter-table.js';
import { OutcomeWords, useOutcome } from './outcome.js';

/** The same by a densitometer, without a strip. */
export function ContrastByDensities() {
  const { figures, field } = useFigures({
    ...{ highlight: '', shadow: '', light: 'diffusion', image: 'silver', flare: '0' },
  });
  const { outcome, attempt } = useOutcome();
  const advise = () => {
    const neededR = neededRangeFromDensities({
      highlightDensity: readFigure('density of the highlights', figures.highlight, readNumber),
      shadowDensity: readFigure('density of the shadows', figures.shadow, readNumber),
      light: figures.light as NegativeReadings['light'],
      image: figures.image as NegativeReadings['image'],
      flareShare: readFigure('stray light', figures.flare, readNumber) / 100,
    });
    return adviceLines(contrastAdvice(neededR, { grades: standardGrades, filters: filterTable.value }));
  };
  return (
    <fieldset>
      <legend>The contrast, by a densitometer</legend>
      <div class="figures">
        <FigureField label="density of the highlights" placeholder="1.20" {...field('highlight')} />
        <FigureField label="density of the shadows" placeholder="0.25" {...field('shadow')} />
        <Choice label="light" of={['diffusion', 'condenser']} {...field('light')} />
        <Choice label="image" of={['silver', 'dye']} {...field('image')} />
        <FigureField label="stray light in %" {...field('flare')} />
        <button type="button" onClick={() => void attempt(advise)}>
          Advise by densities
        </button>
      </div>
      <OutcomeWords {...outcome} />
    </fieldset>
  );
}

interface ChoiceProps {
  readonly label: string;
  readonly of: readonly string[];
  readonly value: string;
  take(value: string): void;
}

function Choice({ label, of, value, take }: ChoiceProps) {
  return (
    <label>
      {label}
      <select value={value} onChange={({ currentTarget }) => take(currentTarget.value)}>
        {of.map((each) => (
          <option value={each} key={each}>
            {each}
          </option>
        ))}
      </select>
    </label>
  );
}

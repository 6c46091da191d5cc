import type { NegativeTold, NightsTold } from '../../server/nights/told.js';
import type { LookingBack } from './looking-back.js';
import { dateWords, keyOf, nightWords } from './night-words.js';

interface Props {
  readonly looking: LookingBack;
}

/** What there is to look back on, by night or by negative. */
export function NightsList({ looking }: Props) {
  const told = looking.nights.value;
  if (told === undefined) return <p>Reading the archive...</p>;
  if (told.nights.length === 0)
    return <p>The archive has no entries yet. Collect the log at the board, and its nights are here.</p>;
  return (
    <section class="list" aria-label="What there is">
      <fieldset>
        <legend>In order of</legend>
        {(['night', 'negative'] as const).map((by) => (
          <label key={by}>
            <input
              type="radio"
              name="by"
              checked={looking.by.value === by}
              onChange={() => {
                looking.by.value = by;
              }}
            />
            {by}
          </label>
        ))}
      </fieldset>
      {looking.by.value === 'night' ? (
        <Nights looking={looking} told={told} />
      ) : (
        <Negatives looking={looking} told={told} />
      )}
    </section>
  );
}

function Nights({ looking, told }: Props & { readonly told: NightsTold }) {
  return (
    <ol>
      {told.nights.map((night) => {
        const key = keyOf(night);
        const words = nightWords(key);
        return (
          <Line
            key={JSON.stringify(key)}
            looking={looking}
            heading={words}
            side={sheetsWords(night.sheets)}
            onOpen={() => void looking.openNight(key, words)}
          />
        );
      })}
    </ol>
  );
}

function Negatives({ looking, told }: Props & { readonly told: NightsTold }) {
  return (
    <ol>
      {byNegative(told.negatives).map((one) => (
        <Line
          key={one.name}
          looking={looking}
          heading={negativeWords(one)}
          side={lastWords(one)}
          onOpen={() => void looking.openNegative(one.name, negativeWords(one))}
        />
      ))}
    </ol>
  );
}

interface LineProps extends Props {
  readonly heading: string;
  readonly side: string;
  onOpen(): void;
}

function Line({ looking, heading, side, onOpen }: LineProps) {
  const isOpen = looking.open.value?.heading === heading;
  return (
    <li>
      <button type="button" aria-current={isOpen ? 'true' : undefined} onClick={onOpen}>
        <span>{heading}</span> <span class="side">{side}</span>
      </button>
    </li>
  );
}

/** What is of one negative stands together; those of which it is not known come last. */
function byNegative(all: readonly NegativeTold[]): NegativeTold[] {
  const isLast = ({ negative }: NegativeTold) => Number(negative === '');
  return [...all].sort(
    (one, other) => isLast(one) - isLast(other) || one.negative.localeCompare(other.negative),
  );
}

function negativeWords({ title, negative }: NegativeTold): string {
  return negative === '' ? title : `${negative}: ${title}`;
}

function sheetsWords(sheets: number): string {
  return sheets === 1 ? '1 sheet' : `${sheets} sheets`;
}

function lastWords({ sheets, lastMs }: NegativeTold): string {
  if (lastMs === null) return sheetsWords(sheets);
  return `${sheetsWords(sheets)}, last on ${dateWords(new Date(lastMs).toLocaleDateString('sv'))}`;
}

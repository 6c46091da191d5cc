import { useSignal } from '@preact/signals';
import type { SheetTold } from '../../server/nights/told.js';
import type { LookingBack } from './looking-back.js';

const ratings: readonly (readonly [number, string])[] = [
  [1, '1, waste'],
  [2, '2'],
  [3, '3'],
  [4, '4'],
  [5, '5, this is the print'],
];

interface Props {
  readonly looking: LookingBack;
  readonly sheet: SheetTold;
}

/** What was said of a sheet, and room to say more: nothing that was said is written over. */
export function Remarks({ looking, sheet }: Props) {
  const rating = useSignal<number | null>(null);
  const words = useSignal('');
  const keep = async (event: Event) => {
    event.preventDefault();
    const said = [rating.value, words.value] as const;
    if (!(await looking.remark(sheet, ...said))) return;
    // What is being said next stays.
    if (rating.value === said[0]) rating.value = null;
    if (words.value === said[1]) words.value = '';
  };
  return (
    <form class="remarks" aria-label={`Remark on sheet ${sheet.name}`} onSubmit={(event) => void keep(event)}>
      {sheet.remarks.length > 0 && (
        <ul>
          {sheet.remarks.map((said, index) => (
            <li key={index}>
              {said.rating !== null && <strong>{said.rating} of 5</strong>} {said.words}
            </li>
          ))}
        </ul>
      )}
      <label>
        rating
        <select
          value={rating.value ?? ''}
          onChange={({ currentTarget: { value } }) => {
            rating.value = value === '' ? null : Number(value);
          }}
        >
          <option value="">none</option>
          {ratings.map(([value, text]) => (
            <option value={value} key={value}>
              {text}
            </option>
          ))}
        </select>
      </label>
      <label class="words">
        remark
        <input
          value={words.value}
          maxLength={500}
          onInput={({ currentTarget: { value } }) => {
            words.value = value;
          }}
        />
      </label>
      <button type="submit">Keep it</button>
    </form>
  );
}

import { useState } from 'preact/hooks';
import { filterText } from '../../../daylight/filters/filter-table.js';
import { UnreadableText } from '../../../recipe/index.js';
import { shownText } from '../shell/shown-text.js';
import { filterTable } from './filter-table.js';

interface FigureProps {
  readonly label: string;
  readonly value: string;
  readonly placeholder?: string;
  take(value: string): void;
}

/** A figure that something is worked out from: read when it is asked for. */
export function FigureField({ label, value, take, placeholder }: FigureProps) {
  return (
    <label>
      {label}
      <input
        value={value}
        placeholder={placeholder}
        autocomplete="off"
        onInput={({ currentTarget }) => take(currentTarget.value)}
      />
    </label>
  );
}

interface FilterProps {
  readonly label: string;
  readonly value: string;
  take(value: string): void;
}

/** One of the table's filters. */
export function FilterField({ label, value, take }: FilterProps) {
  return (
    <label>
      {label}
      <select value={value} onChange={({ currentTarget }) => take(currentTarget.value)}>
        {filterTable.value.filters.map(({ filter }) => (
          <option value={filter} key={filter}>
            {shownText(filterText(filter))}
          </option>
        ))}
      </select>
    </label>
  );
}

/** What was typed into several of them, until it is worked with. */
export function useFigures<Names extends string>(first: Readonly<Record<Names, string>>) {
  const [figures, setFigures] = useState(first);
  const field = (name: Names) => ({
    value: figures[name],
    take: (value: string) => setFigures((before) => ({ ...before, [name]: value })),
  });
  return { figures, field };
}

/** @throws UnreadableText that names the field */
export function readFigure<Value>(label: string, text: string, read: (text: string) => Value): Value {
  try {
    return read(text);
  } catch (error) {
    if (error instanceof UnreadableText) throw new UnreadableText(`${label}: ${error.message}`);
    throw error;
  }
}

/** @throws UnreadableText */
export function readNumber(text: string): number {
  if (/^\s*\d+(\.\d+)?\s*$/.test(text)) return Number(text);
  throw new UnreadableText(`'${text}' is not a number`);
}

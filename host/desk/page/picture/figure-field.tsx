interface Props {
  readonly words: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  /** What the arrow keys turn it by, to which it is rounded; left out, any figure. */
  readonly step?: 0.1;
  give(value: number): void;
}

/** A figure that is kept within what it may be. */
export function FigureField({ words, value, least, most, step, give }: Props) {
  return (
    <label>
      {words}
      <input
        type="number"
        min={least}
        max={most}
        step={step ?? 'any'}
        value={value}
        onChange={({ currentTarget }) => {
          const given = currentTarget.valueAsNumber;
          if (!Number.isFinite(given)) currentTarget.value = String(value);
          else {
            const within = Math.min(most, Math.max(least, given));
            give(step === undefined ? within : Math.round(10 * within) / 10);
          }
        }}
      />
    </label>
  );
}

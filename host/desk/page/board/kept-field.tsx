import type { InputHTMLAttributes } from 'preact';
import { useState } from 'preact/hooks';

interface Props extends Pick<InputHTMLAttributes, 'aria-label' | 'id' | 'maxLength'> {
  /** As the board has it. */
  readonly value: string;
  /** Sends what was typed; true when the board has it. */
  keep(typed: string): Promise<boolean>;
}

/** A field of what the board keeps: it follows the board, but not while something is being typed or was refused. */
export function KeptField({ value, keep, ...more }: Props) {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  return (
    <input
      {...more}
      value={typed ?? value}
      autocomplete="off"
      onInput={({ currentTarget }) => setTyped(currentTarget.value)}
      onKeyDown={({ key }) => key === 'Escape' && setTyped(undefined)}
      onChange={async ({ currentTarget }) => {
        if (await keep(currentTarget.value)) setTyped(undefined);
      }}
    />
  );
}

import type { InputHTMLAttributes, TargetedFocusEvent, TargetedKeyboardEvent } from 'preact';
import { useId, useState } from 'preact/hooks';
import { UnreadableText } from '../../../recipe/index.js';
import { shownText } from '../shell/shown-text.js';

export interface TypedProps<Value> {
  readonly label: string;
  /** What stands there while nothing is being typed. */
  readonly text: string;
  /** @throws UnreadableText with words for the person */
  read(text: string): Value;
  take(value: Value): void;
  /** Only a screen reader is told what it is: all can see it. */
  readonly quiet?: boolean;
  readonly onKeyDown?: (event: TargetedKeyboardEvent<HTMLInputElement>) => void;
  readonly onBlur?: (event: TargetedFocusEvent<HTMLInputElement>) => void;
  readonly more?: InputHTMLAttributes<HTMLInputElement>;
}

/** A field that is taken with Return or when it is left; what cannot be is told where it stands, and stays to be put right. */
export function TypedField<Value>(props: TypedProps<Value>) {
  const { label, text, read, take, quiet, more } = props;
  const { typed, fault, type, commit } = useTyping(read, take);
  const id = useId();
  return (
    <span class="field">
      <label for={id} class={quiet ? 'unseen' : undefined}>
        {shownText(label)}
      </label>
      <input
        {...more}
        id={id}
        value={typed ?? shownText(text)}
        data-typed={typed === undefined ? undefined : ''}
        autocomplete="off"
        spellcheck={false}
        aria-invalid={fault !== undefined}
        aria-describedby={fault === undefined ? undefined : `${id}-fault`}
        onInput={({ currentTarget }) => type(currentTarget.value)}
        onChange={commit}
        onBlur={(event) => {
          commit();
          props.onBlur?.(event);
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
          else if (event.key === 'Escape') type(undefined);
          else props.onKeyDown?.(event);
        }}
      />
      {fault !== undefined && (
        <span class="fault" role="alert" id={`${id}-fault`}>
          {shownText(fault)}
        </span>
      )}
    </span>
  );
}

/** What is being typed, until it is taken. */
export function useTyping<Value>(read: (text: string) => Value, take: (value: Value) => void) {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const [fault, setFault] = useState<string | undefined>(undefined);
  const type = (text: string | undefined) => {
    setTyped(text);
    setFault(undefined);
  };
  const commit = () => {
    if (typed === undefined) return;
    const found = readOrFault(read, typed);
    if ('fault' in found) return setFault(found.fault);
    take(found.value);
    type(undefined);
  };
  return { typed, fault, type, commit };
}

function readOrFault<Value>(
  read: (text: string) => Value,
  text: string,
): { readonly value: Value } | { readonly fault: string } {
  try {
    return { value: read(text) };
  } catch (error) {
    if (error instanceof UnreadableText) return { fault: error.message };
    throw error;
  }
}

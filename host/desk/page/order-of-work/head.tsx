import {
  formatAperture10,
  formatDryDown10,
  formatTime,
  nameFromTitle,
  type Recipe,
} from '../../../recipe/index.js';
import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import * as read from './read-fields.js';
import { TurnedField } from './turned-field.js';
import { baseTurned, dryDownTurned } from './turning.js';
import { TypedField, useTyping } from './typed-field.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** What holds for the whole print: what it is of, how it is enlarged, and its base. */
export function Head({ print }: Props) {
  const recipe = print.recipe.value;
  const change = (to: Partial<Recipe>, step: string) => print.change({ ...print.recipe.value, ...to }, step);
  const once = (to: Partial<Recipe>) => change(to, newStep('head'));
  const { name, title, negative, paper, aperture10, magnification1000, dryDown10, baseMs, notes } = recipe;
  return (
    <div class="head">
      <TypedField label="title" text={title} read={read.readTitle} take={(to) => once({ title: to })} />
      <TypedField
        label="name on the board"
        text={name || nameFromTitle(title)}
        read={read.readName}
        take={(to) => print.rename(to)}
      />
      <TypedField
        label="negative"
        text={negative}
        read={read.readNegative}
        take={(to) => once({ negative: to })}
      />
      <TypedField label="paper" text={paper} read={read.readPaper} take={(to) => once({ paper: to })} />
      <TypedField
        label="aperture"
        text={aperture10 === 0 ? '' : formatAperture10(aperture10)}
        read={read.readAperture10}
        take={(to) => once({ aperture10: to })}
      />
      <TypedField
        label="magnification"
        text={magnification1000 === 0 ? '' : `${magnification1000 / 1000}`}
        read={read.readMagnification1000}
        take={(to) => once({ magnification1000: to })}
      />
      <Notes notes={notes} take={(to) => once({ notes: to })} />
      <TurnedField
        label="base"
        value={baseMs}
        format={formatTime}
        read={read.readBaseMs}
        turned={baseTurned}
        take={(to, step) => change({ baseMs: to }, step)}
      />
      <TurnedField
        label="dry-down"
        value={dryDown10}
        format={formatDryDown10}
        read={read.readDryDown10}
        turned={dryDownTurned}
        take={(to, step) => change({ dryDown10: to }, step)}
      />
    </div>
  );
}

function Notes({ notes, take }: { readonly notes: string; take(notes: string): void }) {
  const { typed, fault, type, commit } = useTyping(read.readNotes, take);
  return (
    <span class="field notes">
      <label for="notes">notes</label>
      <textarea
        id="notes"
        rows={2}
        value={typed ?? notes.split('\n').map(shownText).join('\n')}
        data-typed={typed === undefined ? undefined : ''}
        onInput={({ currentTarget }) => type(currentTarget.value)}
        onBlur={commit}
      />
      {fault !== undefined && (
        <span class="fault" role="alert">
          {shownText(fault)}
        </span>
      )}
    </span>
  );
}

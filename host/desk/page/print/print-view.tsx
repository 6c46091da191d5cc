import { Picture } from '../picture/picture.js';
import { shownText } from '../shell/shown-text.js';
import type { View } from '../shell/view.js';
import { Work } from '../work/work.js';
import type { PrintOnDesk } from './print-on-desk.js';
import { UndoButtons } from './undo-buttons.js';
import { listenForUndo } from './undo-keys.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** The print as one of the desk's views: what it looks like, beside how it is made. */
export function printView(print: PrintOnDesk): View {
  return {
    name: 'print',
    title: 'The print',
    needsServer: false,
    show: () => <PrintView print={print} />,
    comesUp: () => listenForUndo(print),
  };
}

function PrintView({ print }: Props) {
  return (
    <main>
      <header>
        <h1>{shownText(print.recipe.value.title) || 'A new print'}</h1>
        <UndoButtons print={print} />
      </header>
      <div class="print">
        <Picture print={print} />
        <Work print={print} />
      </div>
    </main>
  );
}

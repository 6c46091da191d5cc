import { Work } from '../order-of-work/order-of-work.js';
import { Picture } from '../picture/picture.js';
import { shownText } from '../shell/shown-text.js';
import type { View } from '../shell/view.js';
import { KeepBar, openFile } from './keep-bar.js';
import { Keeping } from './keeping.js';
import type { PrintOnDesk } from './print-on-desk.js';
import { listenForUndo } from './undo-keys.js';

interface Props {
  readonly print: PrintOnDesk;
  readonly keeping: Keeping;
}

/** The print as one of the desk's views: what it looks like, beside how it is made. */
export function printView(print: PrintOnDesk): View {
  const keeping = new Keeping(print);
  return {
    name: 'print',
    title: 'The print',
    needsServer: false,
    show: () => <PrintView print={print} keeping={keeping} />,
    comesUp: () => listenForUndo(print),
  };
}

function PrintView({ print, keeping }: Props) {
  return (
    <main {...takingFiles(keeping)}>
      <header>
        <h1>{shownText(print.recipe.value.title) || 'A new print'}</h1>
        <KeepBar print={print} keeping={keeping} />
      </header>
      <div class="print">
        <Picture print={print} />
        <Work print={print} />
      </div>
    </main>
  );
}

/** A recipe's file that is dropped anywhere; other files are for others to take. */
function takingFiles(keeping: Keeping) {
  return {
    onDragOver: (event: DragEvent) => event.preventDefault(),
    onDrop: (event: DragEvent) => {
      const file = event.dataTransfer?.files[0];
      if (file === undefined || !/\.json$/i.test(file.name)) return;
      event.preventDefault();
      void openFile(keeping, file);
    },
  };
}

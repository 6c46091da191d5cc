import type { PrintOnDesk } from '../print/print-on-desk.js';
import { sentence, shownText } from '../shell/shown-text.js';
import type { View } from '../shell/view.js';
import { Baths } from './baths.js';
import { BoardInHand } from './board-in-hand.js';
import { NewFirmware } from './new-firmware.js';
import { Settings } from './settings.js';
import { Standing } from './standing.js';

/** The board at the laptop's port. The port is the desk's while this view shows, and soon nobody's when it does not. */
export function boardView(print: PrintOnDesk): View {
  const board = new BoardInHand();
  return {
    name: 'board',
    title: 'The board',
    needsServer: true,
    show: () => <BoardView board={board} print={print} />,
    comesUp: () => board.look(),
  };
}

interface Props {
  readonly board: BoardInHand;
  readonly print: PrintOnDesk;
}

function BoardView({ board, print }: Props) {
  return (
    <main>
      <header>
        <h1>The board</h1>
      </header>
      <Standing board={board} />
      <Jobs board={board} print={print} />
      <Settings board={board} />
      <Baths board={board} />
      <NewFirmware />
      <Said board={board} />
      <footer>
        <p>No page and no command can light the lamp: pedal and knob alone do.</p>
      </footer>
    </main>
  );
}

/** What laptop and board have to do with each other on an evening. */
function Jobs({ board, print }: Props) {
  const { title } = print.recipe.value;
  const { progress, over } = board;
  return (
    <section aria-labelledby="jobs">
      <h2 id="jobs">Print and log</h2>
      <p class="jobs">
        <button type="button" onClick={() => void board.send(print.recipe.value)}>
          Send '{shownText(title)}' to the board
        </button>
        <button type="button" onClick={() => void board.collect()}>
          Collect the log
        </button>
      </p>
      {over.value !== '' && (
        <p>
          {sentence(shownText(over.value))}{' '}
          <button type="button" onClick={() => void board.send(print.recipe.value, true)}>
            Send it as the next version
          </button>
        </p>
      )}
      {progress.value !== undefined && (
        <progress aria-label={progress.value.what} value={progress.value.done} max={progress.value.all} />
      )}
    </section>
  );
}

/** What came of the last thing that was done, in sight whichever part of the view it was done in. */
function Said({ board: { came, trouble } }: { readonly board: BoardInHand }) {
  return (
    <div class="said">
      <p role="status" class="came">
        {sentence(shownText(came.value))}
      </p>
      <p role="alert">{sentence(shownText(trouble.value))}</p>
    </div>
  );
}

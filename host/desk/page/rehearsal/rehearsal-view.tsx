import { server } from '../server-link.js';
import type { View } from '../shell/view.js';
import { Choices } from './choices.js';
import { Contacts } from './contacts.js';
import { Display } from './display.js';
import { Easel } from './easel.js';
import { Hands } from './hands.js';
import { OrderOfWork } from './order-of-work.js';
import type { Rehearsal } from './rehearsal.js';
import { TrayView } from './tray-view.js';

interface Props {
  readonly rehearsal: Rehearsal;
  readonly hands: Hands;
}

/** The rehearsal as one of the desk's views: pedal and knob are on the keys only while it shows. */
export function rehearsalView(rehearsal: Rehearsal): View {
  const hands = new Hands(rehearsal);
  return {
    name: 'rehearse',
    title: 'Rehearse an evening',
    needsServer: false,
    show: () => <RehearsalView rehearsal={rehearsal} hands={hands} />,
    comesUp: () => {
      void rehearsal.takeFromDesk();
      return hands.listen();
    },
  };
}

/** An evening at the enlarger, without paper: what the printer sees, touches and hears. */
function RehearsalView({ rehearsal, hands }: Props) {
  return (
    <main>
      <header>
        <h1>Rehearse an evening</h1>
        <Choices rehearsal={rehearsal} />
      </header>
      <div class="bench">
        <section class="board" aria-labelledby="board">
          <h2 id="board">The board</h2>
          <Display rehearsal={rehearsal} hands={hands} />
          <Contacts rehearsal={rehearsal} hands={hands} />
          <OrderOfWork rehearsal={rehearsal} />
        </section>
        <div>
          <Easel rehearsal={rehearsal} />
          <TrayView rehearsal={rehearsal} />
        </div>
      </div>
      <footer>
        <p>
          A screen fogs paper, red or not: keep this page out of the darkroom while a sheet is out of its box.
        </p>
        <ServerWords />
      </footer>
    </main>
  );
}

function ServerWords() {
  const { value } = server;
  if (value === 'none') return null;
  return (
    <p>
      {value === 'lost' ? "Treadle does not answer: run 'treadle desk' again." : `Treadle ${value.version}`}
    </p>
  );
}

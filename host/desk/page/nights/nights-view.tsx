import type { PrintOnDesk } from '../print/print-on-desk.js';
import type { View } from '../shell/view.js';
import { Compared } from './compared.js';
import { LookingBack } from './looking-back.js';
import { NightDetail } from './night-detail.js';
import { NightsList } from './nights-list.js';
import { Paper } from './paper.js';

/** The log as a person looks back on it. */
export function nightsView(print: PrintOnDesk): View {
  const looking = new LookingBack();
  return {
    name: 'nights',
    title: 'The nights',
    needsServer: true,
    show: () => <NightsView looking={looking} print={print} />,
    comesUp: () => {
      void looking.list();
      return () => {};
    },
  };
}

interface Props {
  readonly looking: LookingBack;
  readonly print: PrintOnDesk;
}

function NightsView({ looking, print }: Props) {
  return (
    <main>
      <header>
        <h1>The nights</h1>
      </header>
      <p role="alert">{looking.trouble}</p>
      <p role="status">{looking.came}</p>
      <Shelf looking={looking} print={print} />
    </main>
  );
}

/**
 * One thing at a time: a page to print, two prints beside each other, or the shelf with the nights, which stays as it is
 * behind them, so that whoever comes back is where they were.
 */
function Shelf({ looking, print }: Props) {
  const open = looking.open.value;
  const paper = looking.paper.value !== undefined;
  const compared = !paper && looking.compared.value !== undefined;
  return (
    <>
      {paper && <Paper looking={looking} />}
      {compared && <Compared looking={looking} print={print} />}
      <div class={open === undefined ? 'shelf' : 'shelf opened'} hidden={paper || compared}>
        <NightsList looking={looking} />
        {open !== undefined && <NightDetail looking={looking} print={print} />}
      </div>
    </>
  );
}

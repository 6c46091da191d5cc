import type { PrintOnDesk } from '../print/print-on-desk.js';
import type { View } from '../shell/view.js';
import { LookingBack } from './looking-back.js';
import { NightDetail } from './night-detail.js';
import { NightsList } from './nights-list.js';

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
  const open = looking.open.value;
  return (
    <main>
      <header>
        <h1>The nights</h1>
      </header>
      <p role="alert">{looking.trouble}</p>
      <div class={open === undefined ? 'shelf' : 'shelf opened'}>
        <NightsList looking={looking} />
        {open !== undefined && <NightDetail looking={looking} print={print} />}
      </div>
    </main>
  );
}

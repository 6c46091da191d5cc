import './no-code-from-text.js';
import { render } from 'preact';
import { boardView } from './board/board-view.js';
import { loadCoreInPage } from './core-in-page.js';
import { nightsView } from './nights/nights-view.js';
import { keepDrafts, lastDraft } from './print/draft.js';
import { PrintOnDesk } from './print/print-on-desk.js';
import { printView } from './print/print-view.js';
import { boathousePrint } from './rehearsal/boathouse.js';
import { Rehearsal } from './rehearsal/rehearsal.js';
import { rehearsalView } from './rehearsal/rehearsal-view.js';
import { askServer, hasServer } from './server-link.js';
import { Shell } from './shell/shell.js';
import { wearTheme } from './shell/theme.js';
import { showView, type View } from './shell/view.js';

async function start(): Promise<void> {
  await loadCoreInPage();
  await askServer();
  const draft = await lastDraft();
  const print = new PrintOnDesk(draft?.recipe ?? boathousePrint().recipe, draft?.origin);
  keepDrafts(print);
  const rehearsal = new Rehearsal(print);
  await rehearsal.begin('sent');
  const all: readonly View[] = [
    printView(print),
    boardView(print),
    nightsView(print),
    rehearsalView(rehearsal),
  ];
  const views = all.filter(({ needsServer }) => hasServer() || !needsServer);
  wearTheme();
  showView(views[0]!);
  render(<Shell views={views} />, document.body);
}

void start();

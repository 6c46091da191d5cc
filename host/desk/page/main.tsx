import './no-code-from-text.js';
import { render } from 'preact';
import { boardView } from './board/board-view.js';
import { loadCoreInPage } from './core-in-page.js';
import { nightsView } from './nights/nights-view.js';
import { followPaper, listPapers } from './paper/paper-on-desk.js';
import { pictureOf } from './picture/picture-on-desk.js';
import { lastScan } from './picture/scan-by-server.js';
import { keepDrafts, lastDraft } from './print/draft.js';
import { PrintOnDesk } from './print/print-on-desk.js';
import { printView } from './print/print-view.js';
import { boathousePrint } from './rehearsal/boathouse.js';
import { Rehearsal } from './rehearsal/rehearsal.js';
import { rehearsalView } from './rehearsal/rehearsal-view.js';
import { askServer, hasServer, server } from './server-link.js';
import { keepFocus } from './shell/focus-kept.js';
import { Shell } from './shell/shell.js';
import { wearTheme } from './shell/theme.js';
import { showView, type View } from './shell/view.js';

async function start(): Promise<void> {
  await loadCoreInPage();
  await askServer();
  const draft = await lastDraft();
  const print = new PrintOnDesk(draft?.recipe ?? boathousePrint().recipe, draft?.origin);
  keepDrafts(print);
  followPaper(print);
  void listPapers();
  if (typeof server.value === 'object' && server.value.keepsScan) void layLastScan(print);
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
  keepFocus();
  showView(views[0]!);
  render(<Shell views={views} />, document.body);
}

async function layLastScan(print: PrintOnDesk): Promise<void> {
  const last = await lastScan();
  const picture = pictureOf(print);
  if (last !== undefined && picture.scanName.peek() === '') await picture.layScan(last.name, last.scan);
}

void start();

import './no-code-from-text.js';
import { render } from 'preact';
import { loadCoreInPage } from './core-in-page.js';
import { Hands } from './rehearsal/hands.js';
import { Rehearsal } from './rehearsal/rehearsal.js';
import { RehearsalView } from './rehearsal/rehearsal-view.js';
import { askServer } from './server-link.js';

async function start(): Promise<void> {
  await loadCoreInPage();
  const rehearsal = new Rehearsal();
  const hands = new Hands(rehearsal);
  await rehearsal.begin('boathouse');
  render(<RehearsalView rehearsal={rehearsal} hands={hands} />, document.body);
  hands.listen();
  await askServer();
}

void start();

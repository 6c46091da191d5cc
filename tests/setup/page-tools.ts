import { chromiumPath, pageTestsAreRequired } from '../host/desk/chromium.js';

/** Says in one line when the page's tests cannot run here, and refuses where they must. */
export default function pageTools(): void {
  if (chromiumPath !== undefined) return;
  const missing = 'neither chromium-headless-shell nor chromium is installed';
  if (pageTestsAreRequired) throw new Error(`${missing}: the tests of the desk's page need one`);
  console.log(`The tests of the desk's page are skipped: ${missing}.`);
}

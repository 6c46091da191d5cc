import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';

/** A picture of the page, for looking at: not made unless TREADLE_SCREENSHOTS names a folder for it. */
export async function lookAt(page: Page, name: string): Promise<void> {
  const into = process.env.TREADLE_SCREENSHOTS;
  if (into === undefined) return;
  mkdirSync(into, { recursive: true });
  await page.screenshot({ path: join(into, `${name}.png`), fullPage: true });
}

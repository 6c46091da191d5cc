import axe from 'axe-core';
import { type Browser, chromium, type Page } from 'playwright-core';
import { expect } from 'vitest';
import { chromiumOptions } from './chromium-options.js';

/** The browser that the tests of the desk's page run in; undefined where none is installed. */
export const chromiumPath: string | undefined = chromiumOptions?.executablePath;

/** Whether they must run: in CI, or where somebody says so. */
export const pageTestsAreRequired = Boolean(process.env.CI) || process.env.TREADLE_REQUIRE_PAGE === '1';

/** Whether they run here: for `describe.runIf`. */
export const pageTestsRun: boolean = pageTestsAreRequired || chromiumPath !== undefined;

/** A real browser with an empty profile. */
export function launchChromium(): Promise<Browser> {
  return chromium.launch(chromiumOptions);
}

/** Longer than anything takes, however much else the computer does: only what never comes is waited for so long. */
const PATIENCE_MS = 60_000;

/** A page in a window of its own, of which the browser itself complains, as of an answer that refuses. */
export async function openUnwatched(browser: Browser, options: WindowOptions = {}): Promise<Page> {
  const page = await browser.newPage(options);
  page.setDefaultTimeout(PATIENCE_MS);
  return page;
}

type WindowOptions = Parameters<Browser['newContext']>[0];

/** A page in a window of its own, and all that it asked for and complained of. */
export interface WatchedPage {
  readonly page: Page;
  /** Asserts that nothing went to another computer and nothing went wrong, and closes it. */
  finish(): Promise<void>;
}

export async function openWatched(browser: Browser, options: WindowOptions = {}): Promise<WatchedPage> {
  const page = await openUnwatched(browser, options);
  const asked: string[] = [];
  const troubles: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  page.on('websocket', (socket) => asked.push(socket.url()));
  page.on('pageerror', (error) => troubles.push(error.message));
  page.on('console', (said) => {
    if (said.type() === 'error' || said.type() === 'warning') troubles.push(said.text());
  });
  return {
    page,
    finish: async () => {
      await page.context().close();
      expect(asked.filter((url) => !/^(http:\/\/127\.0\.0\.1:\d+\/|file:)/.test(url))).toEqual([]);
      expect(troubles).toEqual([]);
    },
  };
}

/** What axe finds wrong, by its rules for WCAG 2 and its own good practice. */
export async function findBarriers(page: Page): Promise<string[]> {
  // Into this page alone, since reading it costs half a second; as a debugger, since the page's policy lets no text run.
  const debugging = await page.context().newCDPSession(page);
  await debugging.send('Runtime.evaluate', { expression: axe.source });
  await debugging.detach();
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: typeof import('axe-core') };
    const { violations } = await axe.run();
    return violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`));
  });
}

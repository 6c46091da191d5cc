import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { type DeskServer, openDeskServer } from '../../../host/desk/index.js';
import { launchChromium } from './chromium.js';

/** One browser and one desk for all tests of a `describe`; there once these run. */
export interface BrowserAndServer {
  readonly browser: Browser;
  readonly server: DeskServer;
}

export function browserAndServer(open: () => Promise<DeskServer> = openDeskServer): BrowserAndServer {
  let browser: Browser | undefined;
  let server: DeskServer | undefined;
  beforeAll(async () => {
    [browser, server] = await Promise.all([launchChromium(), open()]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });
  return {
    get browser() {
      return browser!;
    },
    get server() {
      return server!;
    },
  };
}

import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type DeskServer, openDeskServer } from '../../../host/desk/index.js';
import { launchChromium, openUnwatched, pageTestsRun } from './chromium.js';

describe.runIf(pageTestsRun)('a page of somebody else, in the same browser,', () => {
  let browser: Browser;
  let desk: DeskServer;
  let foreign: Server;
  beforeAll(async () => {
    [browser, desk] = await Promise.all([launchChromium(), openDeskServer()]);
    foreign = createServer((_request, response) => {
      response.setHeader('content-type', 'text/html');
      response.end('<title>foreign</title>');
    }).listen(0, '127.0.0.1');
    await once(foreign, 'listening');
  });
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
    foreign?.close();
  });

  // Even one that has come to know the address, token and all.
  it('can ask nothing, load nothing and frame nothing of the desk', async () => {
    const page = await openUnwatched(browser);
    await page.goto(`http://127.0.0.1:${(foreign.address() as AddressInfo).port}/`);
    const { origin, hash } = new URL(desk.url);
    const got = await page.evaluate(
      async ([desk, token]) => {
        const asked = (path: string, options: RequestInit) =>
          fetch(`${desk}${path}`, options).then(
            (answer) => answer.type,
            () => 'refused',
          );
        const loaded = (element: HTMLScriptElement | HTMLLinkElement) =>
          new Promise<string>((resolve) => {
            element.onload = () => resolve('loaded');
            element.onerror = () => resolve('refused');
            document.head.append(element);
          });
        const headers = { 'treadle-token': token! };
        const script = Object.assign(document.createElement('script'), { src: `${desk}/core.js` });
        const style = { rel: 'stylesheet', href: `${desk}/desk.css` };
        const frame = document.createElement('iframe');
        const framed = new Promise((resolve) => {
          frame.onload = resolve;
        });
        frame.src = `${desk}/`;
        document.body.append(frame);
        await framed;
        return {
          reading: await asked('/api/hello', { headers }),
          writing: await asked('/api/hello', { method: 'POST', mode: 'no-cors', body: 'x' }),
          script: await loaded(script),
          style: await loaded(Object.assign(document.createElement('link'), style)),
        };
      },
      [origin, hash.slice(1)],
    );
    expect(got).toEqual({ reading: 'refused', writing: 'refused', script: 'refused', style: 'refused' });
    // What the browser puts in place of a page that will not be framed.
    expect(page.frames().map((frame) => new URL(frame.url()).protocol)).toEqual(['http:', 'chrome-error:']);
  });
});

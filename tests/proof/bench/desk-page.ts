import { type Browser, chromium, type Page } from 'playwright-core';
import { openDeskServer, scanRoom } from '../../../host/desk/index.js';
import { chromiumOptions } from '../../host/desk/chromium-options.js';
import type { Section } from './page.js';
import { WorkerHeap } from './worker-heap.js';

const OPENINGS = 5;
const DRAGS = [100, 1000];
const GOAL_MS = 1000;

/** The page in a real browser: when it is first painted, and what its worker keeps of a long day's dragging. */
export async function deskPage(): Promise<Section[]> {
  if (chromiumOptions === undefined) return [];
  const [browser, server] = await Promise.all([
    chromium.launch(chromiumOptions),
    openDeskServer([scanRoom()]),
  ]);
  try {
    const paintMs = await firstPaintMs(browser, server.url);
    const heaps = await heapsAfterDrags(browser, server.url);
    const section = {
      title: "The desk's page",
      about:
        `First paint with an empty profile, the quickest of ${OPENINGS}; goal: under ${GOAL_MS} ms. Memory: what the ` +
        "picture's worker holds after its garbage was collected; goal: no more after 1000 drags of an area than after 100.",
      columns: ['what', 'figure'],
      rows: [
        ['first paint, ms', paintMs.toFixed(0)],
        ...heaps.map(([drags, bytes]) => [`worker after ${drags} drags, MB`, (bytes / 1e6).toFixed(1)]),
      ],
    };
    return [section];
  } finally {
    await browser.close();
    await server.close();
  }
}

async function firstPaintMs(browser: Browser, url: string): Promise<number> {
  const paints: number[] = [];
  for (let opening = 0; opening < OPENINGS; opening++) {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(url);
    await drawn(page);
    const [paint] = await page.evaluate(() =>
      performance.getEntriesByName('first-contentful-paint').map(({ startTime }) => startTime),
    );
    paints.push(paint ?? Number.POSITIVE_INFINITY);
    await context.close();
  }
  return Math.min(...paints);
}

async function heapsAfterDrags(browser: Browser, url: string): Promise<[drags: number, bytes: number][]> {
  const page = await browser.newPage();
  const heap = await WorkerHeap.of(page);
  await page.goto(url);
  await drawn(page);
  const box = await page.getByRole('button', { name: 'dodge 1, face' }).locator('.line').boundingBox();
  const [x, y] = [box!.x + box!.width / 2, box!.y + 4];
  const heaps: [number, number][] = [];
  let done = 0;
  for (const drags of DRAGS) {
    for (; done < drags; done++) {
      await page.mouse.move(x, y);
      await page.mouse.down();
      await page.mouse.move(x + 40, y + 20);
      await page.mouse.move(x, y);
      await page.mouse.up();
    }
    // The picture in full size comes when nothing more is dragged.
    await page.waitForTimeout(500);
    heaps.push([drags, await heap.bytes()]);
  }
  return heaps;
}

function drawn(page: Page): Promise<void> {
  return page.locator('.picture canvas[data-drawn]').waitFor();
}

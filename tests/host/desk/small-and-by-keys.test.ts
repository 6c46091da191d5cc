import { describe, expect, it } from 'vitest';
import { browserAndServer } from './browser-and-server.js';
import { openWatched, pageTestsRun } from './chromium.js';
import { cutOff } from './cut-off.js';
import { lookAt } from './look-at.js';

const CONTROLS =
  'button, input, select, textarea, summary, [role="button"], [role="slider"], [role="spinbutton"]';
const views = ['The print', 'Rehearse an evening'] as const;

describe.runIf(pageTestsRun)('in a browser, the desk', () => {
  const desk = browserAndServer();

  // WCAG 2.2, 1.4.4: at 200 % a window has half as many of the page's pixels. One page for all: each draws its picture anew.
  it('is not cut off at 200 % nor on a phone, and each control of its order of work takes a finger there', async () => {
    const { page, finish } = await openWatched(desk.browser, { hasTouch: true });
    await page.goto(desk.server.url);
    for (const [name, width] of [
      ['at 200 %', 640],
      ['on a phone', 360],
    ] as const) {
      await page.setViewportSize({ width, height: 640 });
      for (const view of views) {
        await page.getByRole('button', { name: view }).click();
        expect(await cutOff(page), `${view} ${name}`).toEqual([]);
        await lookAt(page, `${view} ${name}`);
      }
    }
    await page.getByRole('button', { name: views[0] }).tap();
    const controls = page.locator('.passes').locator(CONTROLS);
    await expect.poll(() => controls.count()).toBeGreaterThan(20);
    const count = await controls.count();
    for (let at = 0; at < count; at++) await controls.nth(at).tap({ trial: true });
    await page.getByRole('button', { name: 'dodge in burn sky' }).tap();
    await page.getByRole('button', { name: 'take burn far hills away' }).tap();
    await expect
      .poll(() => page.locator('.task .kind').allTextContents())
      .toEqual(['base', 'dodge', 'dodge', 'burn', 'dodge']);
    await finish();
  });

  // WCAG 2.2, 1.4.4 and 1.4.10: of the stops only their sign showed, by a browser whose letters were set to twice their size.
  it('shows each figure of its order of work whole where letters alone are twice as large', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(desk.server.url);
    const browserSettings = await page.context().newCDPSession(page);
    await browserSettings.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    for (const width of [320, 360, 640, 960, 1280]) {
      await page.setViewportSize({ width, height: 640 });
      expect(await cutOff(page), `${width} px`).toEqual([]);
      const figures = page.locator('.passes [role="spinbutton"]');
      const cut = await figures.evaluateAll((fields) =>
        (fields as HTMLInputElement[])
          .filter(({ scrollWidth, clientWidth }) => scrollWidth > clientWidth + 1)
          .map(({ value, clientWidth }) => `${value} in ${clientWidth} px`),
      );
      expect(cut, `${width} px`).toEqual([]);
      expect(await figures.count()).toBeGreaterThan(4);
      await lookAt(page, `letters twice as large, ${width}`);
    }
    await finish();
  });

  it('keeps the keys in the order of work when a line is taken away, the last one too', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(desk.server.url);
    const away = page.getByRole('button', { name: /^take .* away$/ });
    for (let left = await away.count(); left > 1; left--) {
      await away.last().press('Enter');
      await expect.poll(() => away.count()).toBe(left - 1);
      await away.last().and(page.locator(':focus')).waitFor();
    }
    await finish();
  });

  it('is gone through by the Tab key in the order of the page, all of it, and shows where one is', async () => {
    const { page, finish } = await openWatched(desk.browser);
    await page.goto(desk.server.url);
    await page.locator('.picture canvas[data-drawn]').waitFor();
    await page.evaluate((controls) => {
      const all = [...document.querySelectorAll<HTMLElement>(controls)];
      for (const [at, one] of all
        .filter((each) => each.checkVisibility() && !each.matches(':disabled'))
        .entries())
        one.dataset.nth = String(at);
    }, CONTROLS);
    const visited: string[] = [];
    const unmarked: string[] = [];
    for (;;) {
      await page.keyboard.press('Tab');
      const now = await page.evaluate(() => {
        const one = document.activeElement as HTMLElement;
        const around = [one, ...one.querySelectorAll('*')].map((each) => getComputedStyle(each));
        // A ring, or for an area on the sheet a broader line under its own (picture.css).
        const isMarked = around.some(
          ({ outlineStyle, strokeWidth }) => outlineStyle !== 'none' || strokeWidth === '9px',
        );
        return {
          nth: one.dataset.nth,
          isMarked,
          html: one.outerHTML.slice(0, 100),
          isOut: one.matches('body'),
        };
      });
      if (now.isOut || visited.includes(now.nth ?? '')) break;
      // An area that has the focus shows fields of its own.
      if (now.nth !== undefined) visited.push(now.nth);
      if (!now.isMarked) unmarked.push(now.html);
    }
    const missed = await page.evaluate(
      (seen) =>
        [...document.querySelectorAll<HTMLElement>('[data-nth]')]
          .filter((one) => !seen.includes(one.dataset.nth!))
          .map((one) => one.outerHTML.slice(0, 100)),
      visited,
    );
    expect(missed).toEqual([]);
    expect(unmarked).toEqual([]);
    expect(visited).toEqual([...visited].sort((one, other) => Number(one) - Number(other)));
    await finish();
  });
});

import type { Page } from 'playwright-core';

/** What of the page lies beyond its sides, or is cut off by what it stands in. */
export function cutOff(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const shown = [...document.body.querySelectorAll<HTMLElement>('*')].filter(
      (one) => one.checkVisibility({ visibilityProperty: true }) && !one.matches('.unseen, svg *, option'),
    );
    const width = document.documentElement.clientWidth;
    const beyond = shown.filter((one) => {
      const { left, right } = one.getBoundingClientRect();
      return left < -1 || right > width + 1;
    });
    // What is typed may be longer than its field; a figure may not.
    const isTyped = (one: HTMLElement) => one.matches('input:not([role])');
    const cut = shown.filter(
      (one) =>
        !isTyped(one) &&
        getComputedStyle(one).overflowX !== 'visible' &&
        one.scrollWidth > one.clientWidth + 1,
    );
    const sideways = document.documentElement.scrollWidth > width ? ['the page'] : [];
    return [...sideways, ...[...beyond, ...cut].map((one) => one.outerHTML.slice(0, 120))];
  });
}

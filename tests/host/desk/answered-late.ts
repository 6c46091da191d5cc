import type { Page } from 'playwright-core';

interface AnsweredLate {
  /** Once it was asked. */
  readonly asked: Promise<void>;
  answer(): void;
}

/** Such a question to the server waits for its answer until that is let through. */
export async function answeredLate(page: Page, method: string, path: RegExp): Promise<AnsweredLate> {
  let answer = () => {};
  const mayBeAnswered = new Promise<void>((resolve) => {
    answer = resolve;
  });
  let ask = () => {};
  const asked = new Promise<void>((resolve) => {
    ask = resolve;
  });
  await page.route(path, async (route) => {
    if (route.request().method() !== method) return route.fallback();
    ask();
    await mayBeAnswered;
    await route.continue();
  });
  return { asked, answer };
}

const FOCUSABLE = 'button, input, select, textarea, summary, a[href], [tabindex]:not([tabindex="-1"])';

/** Where the keys are: an element, and what it stands in, from inside to outside. */
interface Place {
  readonly element: HTMLElement;
  readonly within: readonly HTMLElement[];
  /** Its number among the controls of the list that it stands in. */
  readonly inList: number;
}

/**
 * Who works by keys keeps a place on the page: where a control goes away that had the focus, with its line or because another
 * thing is shown in its stead, a browser begins at the page's beginning again. Here the focus goes to the control that took its
 * place in the list; else to the first of what is shown instead; and when that is closed, back to what opened it.
 */
export function keepFocus(): void {
  let place: Place | undefined;
  const openers: HTMLElement[] = [];
  document.addEventListener('focusin', ({ target }) => {
    place = placeOf(target as HTMLElement);
  });
  document.addEventListener('focusout', ({ target }) =>
    queueMicrotask(() => {
      // Left on purpose, with nothing in its stead.
      if (isThere(target as HTMLElement) && document.activeElement === document.body) place = undefined;
    }),
  );
  new MutationObserver(() => {
    if (place === undefined || isThere(place.element)) return;
    const lost = place;
    place = undefined;
    const opener = openers.findLast(isThere);
    if (opener !== undefined) {
      openers.splice(openers.indexOf(opener));
      return opener.focus();
    }
    if (lost.element.isConnected) openers.push(lost.element);
    next(lost)?.focus();
  }).observe(document.body, { childList: true, subtree: true, attributeFilter: ['class', 'hidden'] });
}

function placeOf(element: HTMLElement): Place {
  const within: HTMLElement[] = [];
  for (let one = element.parentElement; one !== null; one = one.parentElement) within.push(one);
  const list = within.findLast((one) => one.matches('ol, ul'));
  return { element, within, inList: list === undefined ? -1 : controlsIn(list).indexOf(element) };
}

function next({ within, inList }: Place): HTMLElement | undefined {
  const list = within.findLast((one) => one.matches('ol, ul') && isThere(one));
  const inThatList = list === undefined ? [] : controlsIn(list);
  if (inThatList.length > 0) return inThatList[Math.min(inList, inThatList.length - 1)];
  const around = within.find((one) => isThere(one) && controlsIn(one).length > 0);
  return around && controlsIn(around)[0];
}

function controlsIn(element: HTMLElement): HTMLElement[] {
  return [...element.querySelectorAll<HTMLElement>(FOCUSABLE)].filter(isThere);
}

function isThere(element: HTMLElement): boolean {
  return element.isConnected && element.checkVisibility();
}

import { signal } from '@preact/signals';
import type { ComponentChild } from 'preact';

/** One of the things to do at the desk: the whole window is its own while it shows. */
export interface View {
  /** Also the `data-view` of the page's body, by which its style is told from the others'. */
  readonly name: string;
  /** What its button says. */
  readonly title: string;
  readonly needsServer: boolean;
  show(): ComponentChild;
  /** Told when it comes up; what it answers is called when another takes its place. */
  comesUp?(): () => void;
}

export const viewName = signal('');

let goesDown: (() => void) | undefined;

/** Puts another view up. */
export function showView(view: View): void {
  if (view.name === viewName.value) return;
  goesDown?.();
  viewName.value = view.name;
  document.body.dataset.view = view.name;
  document.title = `${view.title} - Treadle`;
  goesDown = view.comesUp?.();
}

import type { PrintOnDesk } from './print-on-desk.js';

/** Ctrl-Z and Ctrl-Shift-Z, or with the command key. What is being typed has the browser's own. Calling the answer ends it. */
export function listenForUndo(print: PrintOnDesk): () => void {
  const hear = (event: KeyboardEvent) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== 'z') return;
    if (isBeingTyped(event.target)) return;
    event.preventDefault();
    if (event.shiftKey) print.redo();
    else print.undo();
  };
  addEventListener('keydown', hear);
  return () => removeEventListener('keydown', hear);
}

function isBeingTyped(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.dataset.typed !== undefined;
}

import type { PrintOnDesk } from './print-on-desk.js';

interface Props {
  readonly print: PrintOnDesk;
}

export function UndoButtons({ print }: Props) {
  return (
    <div class="undo">
      <button type="button" aria-disabled={!print.mayUndo.value} onClick={() => print.undo()}>
        Undo
      </button>
      <button type="button" aria-disabled={!print.mayRedo.value} onClick={() => print.redo()}>
        Redo
      </button>
    </div>
  );
}

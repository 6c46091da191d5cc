/** A choice made by the mouse is over with it; one made by keys goes on until Escape. */
export function leftAfterPointer() {
  const leave = () => {
    if (chosenByPointer && document.activeElement instanceof HTMLElement) document.activeElement.blur();
  };
  return {
    onPointerDown: () => {
      chosenByPointer = true;
    },
    onKeyDown: () => {
      chosenByPointer = false;
    },
    onChange: leave,
    onClick: ({ target }: Event) => {
      if (target instanceof HTMLButtonElement) leave();
    },
  };
}

let chosenByPointer = false;

/** How a board is spoken of: by the name that the printer gave it, and by its id. */
export function boardWords(boardId: string, name = ''): string {
  return name === '' ? boardId : `${name} (${boardId})`;
}

/** Whether that is the board's id, or what the printer calls it; capitals do not count. */
export function isCalled(
  board: { readonly boardId: string; readonly name: string },
  called: string,
): boolean {
  const wanted = called.trim().toLowerCase();
  return board.boardId.toLowerCase() === wanted || (board.name !== '' && board.name.toLowerCase() === wanted);
}

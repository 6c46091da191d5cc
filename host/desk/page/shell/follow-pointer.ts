/** Tells where the pointer goes, wherever on the page, until it is let go of. */
export function followPointer(move: (event: PointerEvent) => void): void {
  const end = new AbortController();
  const { signal } = end;
  addEventListener('pointermove', move, { signal });
  for (const ending of ['pointerup', 'pointercancel'] as const)
    addEventListener(ending, () => end.abort(), { signal });
}

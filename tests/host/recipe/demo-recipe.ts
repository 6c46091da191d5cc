/** An invented print of an invented place, as its file says it. */
export function demoFile(): Record<string, unknown> & { passes: Record<string, unknown>[] } {
  return {
    title: 'Boathouse at dusk',
    negative: '27-14, frame 9',
    paper: 'fibre, gloss',
    aperture: 'f/8',
    magnification: 4.25,
    base: '12.5s',
    passes: [
      { kind: 'base', filter: '2', stops: '0', dodges: [{ label: 'face', stops: '-1/3' }] },
      { kind: 'burn', label: 'sky', filter: '00', stops: '+3/4' },
    ],
  };
}

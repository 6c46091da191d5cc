import { describe, expect, it } from 'vitest';
import { terminalColour, terminalPicture } from '../../../host/darkroom/picture/terminal-picture.js';

const picture = {
  width: 40,
  height: 20,
  pixels: Uint8Array.from({ length: 800 }, (_, index) => (index % 40) * 6),
};

describe('the small picture in the terminal', () => {
  it.each([
    ['a file or a pipe', { isTTY: false, env: { COLORTERM: 'truecolor' } }, undefined],
    [
      'a terminal whose owner wants no colour',
      { isTTY: true, env: { NO_COLOR: '1', COLORTERM: 'truecolor' } },
      undefined,
    ],
    ['a dumb terminal', { isTTY: true, env: { TERM: 'dumb' } }, undefined],
    [
      'a terminal that says it has 24 bits',
      { isTTY: true, env: { NO_COLOR: '', COLORTERM: 'truecolor' } },
      'full',
    ],
    ['any other terminal', { isTTY: true, env: { TERM: 'xterm' } }, 'grey'],
  ])('is drawn for %s as it can be shown', (_what, facts, colour) => {
    expect(terminalColour(facts)).toBe(colour);
  });

  it('is as many characters wide as asked for, half as many lines, and ends every line plain', async () => {
    const lines = await terminalPicture(picture, 20, 'full');
    expect(lines).toHaveLength(5);
    for (const line of lines) {
      expect(line.match(/\u2580/g)).toHaveLength(20);
      expect(line.endsWith('\u001b[0m')).toBe(true);
    }
  });

  it('never gets bright, in either kind of colour', async () => {
    const full = (await terminalPicture(picture, 20, 'full')).join('');
    const levels = [...full.matchAll(/2;(\d+);(\d+);(\d+)/g)].flatMap(([, r, g, b]) => [
      Number(r),
      Number(g),
      Number(b),
    ]);
    expect(Math.max(...levels)).toBeLessThanOrEqual(150);
    const grey = (await terminalPicture(picture, 20, 'grey')).join('');
    const indexes = [...grey.matchAll(/8;5;(\d+)/g)].map(([, index]) => Number(index));
    expect(Math.min(...indexes)).toBeGreaterThanOrEqual(232);
    expect(Math.max(...indexes)).toBeLessThanOrEqual(246);
  });

  it('keeps to a sensible width whatever is asked for', async () => {
    expect((await terminalPicture(picture, 1, 'grey'))[0]!.match(/\u2580/g)).toHaveLength(8);
    expect((await terminalPicture(picture, 5000, 'grey'))[0]!.match(/\u2580/g)).toHaveLength(160);
  });
});

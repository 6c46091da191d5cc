import { expect, it } from 'vitest';
import { settings } from '../../../../shared-protocol/settings.js';
import { Conversation } from './conversation.js';

it('at power-up the lamp is told to be off, the safelight on, and the display says what a press does, before the flash has done anything', () => {
  const { toldAtOnce } = new Conversation();
  expect(toldAtOnce.slice(0, 3)).toEqual([
    'lamp off',
    'safelight 1',
    `display ${settings['display-light'].initial}`,
  ]);
  expect(toldAtOnce.find((told) => told.startsWith('row 0'))).toMatch(/^row 0: \w+.* Hold focus$/);
});

it('the display is as bright after power-up as it was set', () => {
  const board = Conversation.greeted();
  board.say({ type: 'set-setting', id: 5, name: 'display-light', value: 71 });
  expect(new Conversation(board.flash).toldAtOnce).toContain('display 71');
});

it('a row is sent to the display only where it is not what the display shows, which is blank at first', () => {
  const board = Conversation.greeted();
  for (const [at, job] of (['plain', 'process', 'clock', 'strip'] as const).entries())
    board.say({ type: 'choose', id: 10 + at, job, name: '' });
  const shown = ['', '', '', ''];
  for (const [, row, text] of board.told.flatMap((told) => [/^row (\d): (.*)$/.exec(told) ?? []])) {
    if (row === undefined) continue;
    expect(text).not.toBe(shown[Number(row)]);
    shown[Number(row)] = text!;
  }
  expect(shown.filter((row) => row !== '').length).toBeGreaterThan(1);
});

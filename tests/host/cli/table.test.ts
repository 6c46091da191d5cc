import { describe, expect, it } from 'vitest';
import { table } from '../../../host/cli/terminal/table.js';

describe('a table', () => {
  it('has columns as wide as their widest cell, figures to the right', () => {
    const text = table(
      [{ head: 'name' }, { head: 'dose', align: 'right' }],
      [
        ['face', '12.500 s'],
        ['boathouse', '5.000 s'],
      ],
    );
    expect(text).toBe(['name           dose', 'face       12.500 s', 'boathouse   5.000 s'].join('\n'));
  });

  it('counts a wide letter as the two columns that it takes', () => {
    expect(table([{ head: 'name' }, { head: 'x' }], [['顔顔顔', '1']])).toBe('name    x\n顔顔顔  1');
  });

  it('lets a row that ends early run on over the empty columns', () => {
    const text = table(
      [{ head: 'time' }, { head: 'what' }, { head: 'dose' }],
      [
        ['1', 'a long sentence'],
        ['2', 'sky', '5 s'],
      ],
    );
    expect(text).toBe(['time  what  dose', '1     a long sentence', '2     sky   5 s'].join('\n'));
  });

  it('goes on at a word under itself where a line would be wider than the terminal', () => {
    const rows = [['lens-check', 'after focusing, a hold must confirm that the lens is stopped down']];
    expect(table([{ head: 'setting' }, { head: 'what it does' }], rows, 40)).toBe(
      [
        'setting     what it does',
        'lens-check  after focusing, a hold must',
        '            confirm that the lens is',
        '            stopped down',
      ].join('\n'),
    );
  });

  it('leaves figures as they are, however narrow the terminal', () => {
    expect(table([{ head: 'dose', align: 'right' }], [['123456789012.500 s']], 10)).toBe(
      ['              dose', '123456789012.500 s'].join('\n'),
    );
  });

  it('cleans what it shows', () => {
    expect(table([{ head: 'name' }], [['\u001b[31mred']])).toBe('name\n\ufffd[31mred');
  });
});

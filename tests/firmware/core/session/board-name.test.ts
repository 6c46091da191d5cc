import { beforeEach, describe, expect, it } from 'vitest';
import { Conversation } from './conversation.js';

let board: Conversation;
beforeEach(() => {
  board = Conversation.greeted();
});

const set = (name: string) => board.say({ type: 'name-set', id: board.nextId++, name })[0]!;
const get = () => board.say({ type: 'name-get', id: board.nextId++ })[0]!;

describe('the name that the printer gave a board', () => {
  it('is none on a new board, and taking none away is no fault', () => {
    expect(get()).toMatchObject({ type: 'board-name', name: '' });
    expect(set('')).toMatchObject({ type: 'ok' });
  });

  it('is there after the next start, until another takes its place or none', () => {
    expect(set('Keller, groß')).toMatchObject({ type: 'ok' });
    expect(get()).toMatchObject({ name: 'Keller, groß' });
    board = new Conversation(board.flash);
    board.hello();
    expect(get()).toMatchObject({ name: 'Keller, groß' });
    expect(set('garage')).toMatchObject({ type: 'ok' });
    expect(get()).toMatchObject({ name: 'garage' });
    expect(set('')).toMatchObject({ type: 'ok' });
    board = new Conversation(board.flash);
    board.hello();
    expect(get()).toMatchObject({ name: '' });
  });

  it('is no recipe, whatever it is', () => {
    set('name');
    expect(board.say({ type: 'recipe-get', id: board.nextId++, name: 'name' })[0]).toMatchObject({
      code: 'not-found',
    });
    expect(get()).toMatchObject({ name: 'name' });
  });
});

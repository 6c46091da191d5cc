// Run as a program of its own: opens the board at a port, says so, and stays until a signal ends it.
import { openBoard } from 'treadle/board';

const [path] = process.argv.slice(2);
const board = await openBoard(path);
board.lost.addEventListener('abort', () => console.log('closed'));
console.log('open');

import { checkMayWrite } from '../../files/write-file.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { NothingWritten } from './conduct.js';
import { ask, type Interview, type Question } from './question.js';
import { literal } from './wording.js';

/** Shows what would be written, and asks. @throws NothingWritten for 'no' */
export function* agree(above: string, file: string): Interview<void> {
  const isWanted = yield* ask({
    key: 'write',
    ask: `Write it to ${file}?`,
    ready: 'yes',
    above: `\n${above}\n`,
    help: "'yes' writes the file; 'no' ends with nothing written; 'back' goes to the last question.",
    read: readYesOrNo,
  });
  if (!isWanted) throw new NothingWritten('not wanted');
}

export function readYesOrNo(answer: string): boolean {
  const word = answer.trim().toLowerCase();
  if (['yes', 'y'].includes(word)) return true;
  if (['no', 'n'].includes(word)) return false;
  throw new UnreadableText(`'${answer}' is neither yes nor no`);
}

/** @param over may it be there already? */
export function fileQuestion(ready: string, over: boolean): Question<string> {
  return {
    key: 'file',
    ask: 'File',
    ready,
    help: over
      ? 'The file to write, also over one that is there.'
      : 'The file to write, which must not be there yet.',
    read: literal,
    check: async (path) => {
      await checkMayWrite(path, { over });
    },
  };
}

import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';

/** A command that writes to the disk. */
export interface Chore {
  readonly words: readonly string[];
  /** The name of the file that it leaves, which is its last word. */
  readonly file?: string;
  /** Whether a board is at the other end. */
  readonly atBoard?: true;
  /** Whether there is no archive yet. */
  readonly anew?: true;
}

const recipe = join(projectRoot, 'host/evening/boathouse.json');

/** @param newer a file of the recipe in a later version than the board has */
export const choresWith = (newer: string): readonly Chore[] => [
  { words: ['collect'], atBoard: true },
  { words: ['collect'], atBoard: true, anew: true },
  { words: ['send', newer], atBoard: true },
  { words: ['save', 'boathouse', '--force', '-o'], file: 'saved.json', atBoard: true },
  { words: ['remark', 'last', 'dry', '--rating', '4'] },
  { words: ['remark', 'boathouse', 'for', 'the', 'wall'] },
  { words: ['nights', '--date', '2027-03-06', '1'] },
  { words: ['nights', '--night', 'last', '--force', '--html'], file: 'night.html' },
  { words: ['again', 'last', '--force', '-o'], file: 'again.json' },
  { words: ['compare', 'last/1', 'last/2', '--force', '-o'], file: 'both.png' },
  { words: ['baths', 'usual', '--force', '-o'], file: 'baths.json' },
  { words: ['baths', 'usual', '-o'], file: 'new-baths.json' },
  { words: ['rescale', recipe, '--magnification', '5:8', '--force', '-o'], file: 'rescaled.json' },
  { words: ['filter', recipe, '--to', '4', '--force', '-o'], file: 'filtered.json' },
  { words: ['dry-down', recipe, '--percent', '8%', '--force', '-o'], file: 'dry.json' },
  { words: ['map', recipe, '--force', '-o'], file: 'map.html' },
  { words: ['preview', recipe, '--force', '-o'], file: 'print.png' },
];

import type { Sent } from '../records/recipes/send-recipe.js';
import { sentWords } from '../records/recipes/sent-words.js';
import { cleanText } from './terminal/clean-text.js';
import { remark } from './terminal/print.js';

export function tellSent(sent: Sent, boardId: string): void {
  for (const words of sentWords(sent, boardId)) remark(cleanText(words));
}

import { duration, seconds } from '../../figures.js';
import type { Notice } from '../link/notices.js';
import { stateWords } from './state-words.js';

/** A live event as one line. */
export function noticeWords(notice: Notice): string {
  switch (notice.type) {
    case 'lamp':
      return `${duration(notice.uptimeMs)}  lamp ${notice.on ? 'on' : `off after ${seconds(notice.onUs / 1000)}`}`;
    case 'moved':
      return `${duration(notice.uptimeMs)}  ${movedWords(notice)}`;
    case 'shown':
      return `         row ${notice.row + 1} |${notice.text}|`;
    case 'checked':
      return `         checkup, ${notice.step}: ${notice.isFine ? 'fine' : 'not as it should be'}`;
  }
}

function movedWords({ state, pass, label, remainingMs }: Extract<Notice, { type: 'moved' }>): string {
  const where = pass > 0 ? `, pass ${pass}` : '';
  const what = label === '' ? '' : ` ${label}`;
  const isStep = state === 'step-ready' || state === 'timing';
  const rest = remainingMs > 0 ? `, ${seconds(remainingMs)} to ${isStep ? 'go' : 'give'}` : '';
  return `${stateWords[state]}${where}${what}${rest}`;
}

import { pagePolicy } from '../policy.js';

/** On every answer, refusals included: nothing of it is kept, framed, guessed at, or shared with another origin. */
export const answerHeaders: Readonly<Record<string, string>> = {
  'content-security-policy': `${pagePolicy}; frame-ancestors 'none'`,
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
  'cross-origin-resource-policy': 'same-origin',
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cache-control': 'no-store',
};

import { readForPage } from './read-for-page.js';
import { tellPaper } from './tell-paper.js';

/**
 * What takes a processor's seconds. Data goes in and comes out, no functions. What a person can do something about is
 * part of what comes out: an error that is thrown here should not have been.
 */
export const works = { readStrip: readForPage, tellPaper } as const;

export type Works = typeof works;

/** Commands that ask, question by question; loaded as one. */
export * as change from './commands/change.js';
export * as new from './commands/new.js';

/** Commands that plan and calculate: all of them want the same rooms, so they are loaded as one. */
export * as check from './commands/check.js';
export * as contrast from './commands/contrast.js';
export * as filter from './commands/filter.js';
export * as preview from './commands/preview.js';
export * as rescale from './commands/rescale.js';
export * as split from './commands/split.js';
export * as strip from './commands/strip.js';
export * as timeline from './commands/timeline.js';

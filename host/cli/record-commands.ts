/** Commands that need the archive beside the board; loaded as one. Reading the nights is quicker alone. */
export * as again from './commands/again.js';
export * as collect from './commands/collect.js';
export * as compare from './commands/compare.js';
export * as dryDown from './commands/dry-down.js';
export * as paper from './commands/paper.js';
export * as read from './commands/read.js';
export * as recipes from './commands/recipes.js';
export * as remark from './commands/remark.js';
export * as save from './commands/save.js';
export * as send from './commands/send.js';
export * as survey from './commands/survey.js';

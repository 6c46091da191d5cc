/** Commands that talk to a board and keep nothing; loaded as one. */
export * as baths from './commands/baths.js';
export * as checkup from './commands/checkup.js';
export * as diagnose from './commands/diagnose.js';
export * as flash from './commands/flash.js';
export * as info from './commands/info.js';
export * as ports from './commands/ports.js';
export * as remove from './commands/remove.js';
export * as settings from './commands/settings.js';
export * as sim from './commands/sim.js';
export * as watch from './commands/watch.js';

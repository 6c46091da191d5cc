export { formatAreaCm2, readAreaCm2 } from './area-text.js';
export { formatBathTime, readBathTime } from './bath-time-text.js';
export { readBaths, writeBaths } from './baths.js';
export { bathsFile } from './baths-file.js';
export { type Left, leftOf } from './used-up.js';
export { usualBathsFile } from './usual-file.js';

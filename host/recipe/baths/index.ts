export { formatAreaCm2, readAreaCm2 } from './area-text.js';
export { formatBathTime, readBathTime } from './bath-time-text.js';
export {
  bathProblems,
  fileFromBaths,
  type ReadBath,
  readBaths,
  readBathsFile,
  writeBaths,
} from './baths.js';
export { bathsFile, type ReadBaths } from './baths-file.js';
export { type Left, leftOf } from './used-up.js';
export { usualBathsFile } from './usual-file.js';

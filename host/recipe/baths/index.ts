export { formatAreaCm2, readAreaCm2 } from './area-text.js';
export { formatBathTime, readBathTime } from './bath-time-text.js';
export {
  type BathsOnFile,
  bathProblems,
  fileFromBaths,
  type ReadBath,
  readBaths,
  readBathsFile,
  readWholeBaths,
  timesByTemperature,
  writeBaths,
} from './baths.js';
export { bathsFile, type ReadBaths } from './baths-file.js';
export { formatDegreesC, readTemperatureC10 } from './temperature-text.js';
export { type Left, leftOf } from './used-up.js';
export { usualBathsFile } from './usual-file.js';

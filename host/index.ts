export { version } from '../shared-protocol/project.js';

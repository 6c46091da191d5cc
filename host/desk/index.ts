/** The desk, as the command line opens it: the server, the browser, and the page as a folder of files. */

export { boardForDesk } from './server/board/board-for-desk.js';
export { boardRoom } from './server/board/board-room.js';
export { flashRoom } from './server/board/flash-room.js';
export { type DeskServer, openDeskServer } from './server/desk-server.js';
export { nightsRoom } from './server/nights/nights-room.js';
export { oneDeskPerArchive } from './server/one-desk.js';
export { type OpenedBrowser, openBrowser } from './server/open-browser.js';
export { papersRoom } from './server/papers/papers-room.js';
export { printsRoom } from './server/prints/prints-room.js';
export { KeptScan } from './server/scan/kept-scan.js';
export { scanRoom } from './server/scan/scan-room.js';
export { stripRoom } from './server/strips/strip-room.js';
export { WorkThread } from './server/thread/work-thread.js';
export { writeStaticDesk } from './server/write-static.js';

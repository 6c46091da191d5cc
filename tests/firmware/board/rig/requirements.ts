import { canBuildImages } from './image.js';

/** Whether the board's tests must run: in CI, or where somebody says so. */
export const boardTestsAreRequired = Boolean(process.env.CI) || process.env.TREADLE_REQUIRE_BOARD === '1';

/** Whether they run here: for `describe.runIf`. Without the cross compiler they are skipped, unless required. */
export const boardTestsRun: boolean = boardTestsAreRequired || canBuildImages();

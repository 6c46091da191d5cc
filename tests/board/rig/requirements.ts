import { describe } from 'vitest';
import { canBuildImages } from './image.js';

/** Whether the board's tests must run: in CI, or where somebody says so. */
export const boardTestsAreRequired = Boolean(process.env.CI) || process.env.TREADLE_REQUIRE_BOARD === '1';

/** `describe` for tests that build an image: skipped without the cross compiler, unless they are required. */
export const describeBoard = describe.runIf(boardTestsAreRequired || canBuildImages());

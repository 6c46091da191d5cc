/** Above white, of a glossy paper: assumed, since few strips show it. */
export const ASSUMED_BLACK = 2.05;
export const ASSUMED_BLACK_SPREAD = 0.1;
/** The same as a natural logarithm, where it is fitted: glossy papers have 1.9 to 2.2 above white, common practice, no source. */
export const LN_BLACK_SPREAD = 0.042;

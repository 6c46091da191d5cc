/** The time of what does not come. */
export const NEVER: i64 = i64.MAX_VALUE;

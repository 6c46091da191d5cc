/** 7071 -> `7.071 s`: every figure that a board keeps to is in whole milliseconds, and none is hidden. */
export function seconds(ms: number): string {
  return `${(ms / 1000).toFixed(3)} s`;
}

/** 585 -> `+0.58`: thousandths of a stop as people compare them. */
export function hundredths(stops1000: number): string {
  const sign = stops1000 < 0 ? '-' : '+';
  return sign + (Math.abs(stops1000) / 1000).toFixed(2);
}

/** `1 patch`, `2 patches`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** 7071 -> `7.071 s`: every figure that a board keeps to is in whole milliseconds, and none is hidden. */
export function seconds(ms: number): string {
  return `${(ms / 1000).toFixed(3)} s`;
}

/** 58 -> `+0.58`: hundredths of a stop, which are for comparing by eye. */
export function hundredths(stops100: number): string {
  const sign = stops100 < 0 ? '-' : '+';
  return sign + (Math.abs(stops100) / 100).toFixed(2);
}

/** `1 patch`, `2 patches`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** 93784000 -> `26:03:04`: hours, minutes and seconds. */
export function duration(ms: number): string {
  const whole = Math.floor(ms / 1000);
  const two = (value: number) => `${value}`.padStart(2, '0');
  return `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`;
}

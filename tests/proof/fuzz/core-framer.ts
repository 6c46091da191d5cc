/** The core's framer (framer.as.ts), with damage laid over the line that goes in. */
export interface Framer {
  /** Good lines found in `line` with `damage` laid over it. */
  linesTaken(line: string, damage: Uint8Array): number;
  pairsTaken(line: string): number;
}

export function coreFramer(module: WebAssembly.Module): Framer {
  const { exports } = new WebAssembly.Instance(module, {});
  const memory = new Uint8Array((exports.memory as WebAssembly.Memory).buffer);
  const lineAt = (exports.line as WebAssembly.Global).value as number;
  const damageAt = (exports.damage as WebAssembly.Global).value as number;
  const taken = exports.linesTaken as (length: number) => number;
  const withSecondBit = exports.linesTakenWithSecondBit as (length: number, first: number) => number;
  const put = (line: string, damage: Uint8Array) => {
    memory.set(Buffer.from(line, 'latin1'), lineAt);
    memory.set(damage, damageAt);
  };
  return {
    linesTaken(line, damage) {
      put(line, damage);
      return taken(line.length);
    },
    pairsTaken(line) {
      put(line, new Uint8Array(line.length));
      let sum = 0;
      for (let first = 0; first < line.length * 8; first++) sum += withSecondBit(line.length, first);
      return sum;
    },
  };
}

import { compileCore } from '../setup/compile-core.js';

/** The core's half of the codec: a line's bytes in, the line that it writes after reading them out. */
export interface CodecEcho {
  /** The rewritten line, or minus one more than the number of the field that was refused. */
  echo(line: string): string | number;
}

export function codecEcho(): CodecEcho {
  const module = compileCore('tests/shared-protocol/echo.as.ts');
  const { exports } = new WebAssembly.Instance(module, {});
  const memory = new Uint8Array((exports.memory as WebAssembly.Memory).buffer);
  const lineIn = (exports.lineIn as WebAssembly.Global).value as number;
  const lineOut = (exports.lineOutAt as () => number)();
  const echo = exports.echo as (length: number) => number;
  return {
    echo(line) {
      // As the framer hands it over: without the opening bracket, the checksum and what closes the line.
      const elements = Buffer.from(line.slice(1, -13), 'latin1');
      memory.set(elements, lineIn);
      const length = echo(elements.length);
      return length < 0 ? length : Buffer.from(memory.subarray(lineOut, lineOut + length)).toString('latin1');
    },
  };
}

import asc from 'assemblyscript/asc';
import { describe, expect, it } from 'vitest';
import { packedText } from '../../setup/compile-core.js';

/** Compiles one file, which may use `ascii`. */
async function compile(body: string) {
  const files: Record<string, string | Uint8Array> = {
    'entry.ts': `declare function ascii(letters: string): usize;\n${body}`,
  };
  const { error } = await asc.main(
    ['entry.ts', '--runtime', 'stub', '--transform', packedText, '--config', 'none', '--outFile', 'out.wasm'],
    {
      readFile: (name) => (typeof files[name] === 'string' ? files[name] : null),
      writeFile: (name, contents) => {
        files[name] = contents;
      },
      listFiles: () => [],
    },
  );
  return { error, wasm: files['out.wasm'] as Uint8Array<ArrayBuffer> };
}

describe("a text of the core's own", () => {
  it('is a length byte and its letters, in one place for all that say the same', async () => {
    const { wasm } = await compile(
      "export const one = ascii('Tap start');\nexport function other(): usize {\n  return ascii('Tap start');\n}\nexport const empty = ascii('');",
    );
    const { exports } = await WebAssembly.instantiate(await WebAssembly.compile(wasm), {});
    const { memory, one, other, empty } = exports as {
      memory: WebAssembly.Memory;
      one: WebAssembly.Global;
      other: () => number;
      empty: WebAssembly.Global;
    };
    const bytes = Buffer.from(memory.buffer);
    expect(bytes.subarray(one.value, one.value + 10).toString('latin1')).toBe('\x09Tap start');
    expect(other()).toBe(one.value);
    expect(bytes[empty.value]).toBe(0);
  });

  it('does not compile, with file and line, when the panel could not show it or it is not one literal', async () => {
    for (const call of [
      "ascii('caf\u00e9')",
      "ascii('two\\nlines')",
      `ascii('${'a'.repeat(256)}')`,
      "ascii('a' + 'b')",
      "ascii('a', 'b')",
    ]) {
      const { error } = await compile(`export const text: usize = ${call};`);
      expect(error?.message, call).toMatch(/^entry\.ts:2: ascii takes one string literal of printable ASCII/);
    }
  });
});

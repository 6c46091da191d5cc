import { statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { coreModule } from '../../../host/core/load-core.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { EveningBench } from './evening/evening-bench.js';

const LARGEST_BYTES = 64 * 1024;
const PAGE_BYTES = 64 * 1024;

describe('core.wasm', () => {
  it('is small enough for the smallest of its homes', () => {
    expect(statSync(join(projectRoot, 'dist/core.wasm')).size).toBeLessThanOrEqual(LARGEST_BYTES);
  });

  it('asks its board for nothing but the effects', () => {
    const asked = WebAssembly.Module.imports(coreModule());
    expect(asked.every(({ module, kind }) => module === 'board' && kind === 'function')).toBe(true);
    expect(asked.map(({ name }) => name).sort()).toEqual([
      ...['boardId', 'displayLight', 'exposeUs', 'flashErase', 'flashProgram', 'flashRead', 'focusUs'],
      ...['lampOff', 'linkFaults', 'makeWay', 'safelight', 'sendBytes', 'showLine', 'tone', 'wakeAtUs'],
    ]);
  });

  it('keeps to its one page, which cannot grow', () => {
    const bench = new EveningBench(new SimulatedBoard());
    bench.greet();
    bench.focusAndStopDown();
    const memory = bench.board.memory as WebAssembly.Memory;
    expect(memory.buffer.byteLength).toBe(PAGE_BYTES);
    expect(() => memory.grow(1)).toThrow(RangeError);
  });
});

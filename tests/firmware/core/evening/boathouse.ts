import type { BenchRecipe } from './evening-bench.js';

/** The boathouse on Skelder Mere: a base with two areas held back, and two burns at another filter. */
export const boathouse: BenchRecipe = {
  name: 'boathouse',
  baseMs: 12_000,
  passes: [
    {
      kind: 'base',
      label: 'whole sheet',
      filter: '2 1/2',
      stops120: 0,
      dodges: [
        { label: 'jetty', stops120: -40 },
        { label: 'façade', stops120: -60 },
      ],
    },
    { kind: 'burn', label: 'sky', filter: '00', stops120: 120 },
    { kind: 'burn', label: 'left edge', filter: '00', stops120: 60 },
  ],
};

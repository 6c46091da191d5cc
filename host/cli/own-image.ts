import { fileURLToPath } from 'node:url';

/** The board's image that came with this copy of the library; it lies as deep below this file as core.wasm. */
export const ownImagePath: string = fileURLToPath(
  new URL(
    import.meta.url.endsWith('.ts') ? '../../dist/image/treadle.uf2' : '../../image/treadle.uf2',
    import.meta.url,
  ),
);

/** As much of WebAssembly as the core needs: TypeScript has the rest only among the types of the browser's document. */

/** The core's memory; views on it hold as long as the core does not grow, which this one never does. */
export interface CoreMemory {
  readonly buffer: ArrayBuffer;
}

/** A compiled module, such as a `WebAssembly.Module`. */
export type CoreModule = object;

interface Engine {
  readonly Module: {
    new (bytes: Uint8Array): CoreModule;
    imports(module: CoreModule): { readonly module: string; readonly name: string }[];
  };
  readonly Instance: new (module: CoreModule, imports: object) => { readonly exports: unknown };
  readonly RuntimeError: new (message?: string) => Error;
}

export const { WebAssembly: engine } = globalThis as unknown as { readonly WebAssembly: Engine };

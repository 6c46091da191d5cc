import { provideCore } from '../../core/load-core.js';

/** Hands over the core that came as the page's other script. */
export async function loadCoreInPage(): Promise<void> {
  const { treadleCore } = globalThis as unknown as { readonly treadleCore: string };
  const bytes = Uint8Array.from(atob(treadleCore), (character) => character.charCodeAt(0));
  provideCore(await WebAssembly.compile(bytes));
}

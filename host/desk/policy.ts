/**
 * What the desk's page may do, for its own head and for the server's: its own script, style and requests, and nothing
 * from anywhere else. WebAssembly has to be allowed by name.
 */
export const pagePolicy =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; connect-src 'self'; worker-src 'self'; " +
  "base-uri 'none'; form-action 'none'";

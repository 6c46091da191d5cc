import { existsSync } from 'node:fs';

/** Debian's, the small one first. */
const places = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'];

/** Nothing of its own goes to any other computer. Its sandbox cannot be had by root, as whom CI runs. */
const args = [
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  ...['--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'],
  ...['--disable-component-update', '--disable-sync', '--mute-audio'],
];

/** How the browser is launched in which the desk's page is tried; undefined where none is installed. */
export const chromiumOptions: { readonly executablePath: string; readonly args: string[] } | undefined =
  places.filter((path) => existsSync(path)).map((executablePath) => ({ executablePath, args }))[0];

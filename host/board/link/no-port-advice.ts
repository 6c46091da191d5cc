/** Where a system tells whether it sees a board at all. */
const LOOK: Partial<Record<NodeJS.Platform, string>> = {
  linux: "'lsusb' lists it as 2e8a:000a where this computer sees it, and 'journalctl -k' says why not",
  darwin:
    "unlock the Mac and allow the accessory when it asks (System Settings, Privacy & Security); System Information, USB, lists 'Treadle board' where it sees it",
  win32:
    'Device Manager lists it under Ports (COM & LPT) where Windows sees it, and with a yellow mark where it has no driver: Windows Update has most',
};

/** What to do where there is no port that a board might be at. A cable that only charges looks like any other. */
export function noPortAdvice(platform: NodeJS.Platform = process.platform): string {
  const look = LOOK[platform];
  return (
    'plug the board in, by a cable that carries data: many only charge, so try one that has copied files before' +
    (look === undefined ? '' : `; ${look}`) +
    (platform === 'win32' ? '' : "; 'treadle sim --pty' makes a simulated one")
  );
}

import type { Server } from 'node:net';

const LOOPBACK = '127.0.0.1';

/** Has a server listen where only this computer and its guests reach it, and gives the port. */
export async function listenOnLoopback(server: Server): Promise<number> {
  await new Promise<void>((resolve) => server.listen(0, LOOPBACK, resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port of the loopback was free');
  return address.port;
}

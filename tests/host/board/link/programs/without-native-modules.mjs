// Run as a program of its own: no native module can be loaded in it.
import { register } from 'node:module';

const refuse = `export async function resolve(name, context, next) {
  if (/^(serialport|libsql|@lydell\\/node-pty|sharp|@serialport\\/bindings-cpp)$/.test(name))
    throw new Error('no native part for this platform');
  return next(name, context);
}`;
register(`data:text/javascript,${encodeURIComponent(refuse)}`);

const { openBoard, listPorts } = await import('treadle/board');
const { SimulatedBoard, offerPort } = await import('treadle/sim');
const { openArchive } = await import('treadle/archive');
const { negativeFromScan } = await import('treadle/pictures');
const board = new SimulatedBoard({ speed: 1 });
const opened = await openBoard(board.plug());
const said = [(await opened.status()).state];
await opened.close();
board.close();
for (const attempt of [
  () => openBoard('/dev/some-port'),
  () => listPorts(),
  () => openArchive('/tmp/not-made.sqlite'),
  () => negativeFromScan(process.argv[1]),
  () => offerPort(board.plug()),
])
  said.push(await attempt().catch((error) => `${error.name}: ${error.message}`));
console.log(JSON.stringify(said));

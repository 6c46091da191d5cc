import assert from 'node:assert/strict';
import { encodeLine, protocolVersion, schemaHash, version } from '../../shared-protocol/index.js';
import { type Laptop, PORT } from './laptop.js';

/** Long enough to be a hold and not a tap, also for a chip that loses time. */
const FOOT_MS = 1500;
const WATCHED_S = 4;
const ANSWER_S = 10;

/** Programs that open the port, or leave it, as they should not: the next one is answered every time. */
export async function tellOfRoughPrograms(laptop: Laptop): Promise<void> {
  laptop.tell('a program that goes away in the middle of a line');
  await laptop.run(`exec 3<>${PORT}; stty -F ${PORT} raw -echo; printf '["hello",7,2' >&3`);
  await askAsShell(laptop);

  laptop.tell('a program that is killed while the board tells it what the pedal does');
  const events = await watchAndKill(laptop);
  assert.match(events, /lamp on/);
  await askAsShell(laptop);

  laptop.tell('a program that never says that it is ready (DTR)');
  await laptop.attempt(`stty -F ${PORT} 0`); // it says so where a driver keeps its rate
  await askAsShell(laptop);
  await laptop.run(`stty -F ${PORT} 115200`);

  laptop.tell('a terminal as it comes, which sends back all that the board says');
  await laptop.run(`stty -F ${PORT} sane; (timeout 3 cat ${PORT} &); sleep 1; echo hello > ${PORT}; sleep 3`);
  await askAsShell(laptop);
  await laptop.run('treadle diagnose');
}

/** Says hello by hand, and holds that nothing comes before the board's welcome but that it did not understand what was left. */
async function askAsShell(laptop: Laptop): Promise<void> {
  const hello = {
    type: 'hello',
    id: 7,
    protocol: protocolVersion,
    schemaHash,
    hostVersion: version,
  } as const;
  const until = `while read -t ${ANSWER_S} -r line <&3; do echo "$line"; case "$line" in *welcome*) break; esac; done`;
  const said = await laptop.run(
    `stty -F ${PORT} raw -echo; exec 3<>${PORT}; printf '\\n%s\\n' '${encodeLine(hello).trim()}' >&3; ${until}`,
  );
  const lines = said.trim().split('\n');
  assert.match(lines.at(-1)!, /^\["welcome",7,/);
  for (const line of lines.slice(0, -1)) assert.match(line, /^\["error",0,"bad-line",/);
}

/** What `treadle watch` showed of a foot at the pedal until it was stopped, so that it read no more, and killed. */
async function watchAndKill(laptop: Laptop): Promise<string> {
  let isDown = false;
  const foot = setInterval(() => {
    isDown = !isDown;
    laptop.board.board.pedal(isDown);
  }, FOOT_MS);
  try {
    await laptop.quietly(
      'treadle watch > watch.txt 2>&1 & echo $! > watch; until grep -q "lamp on" watch.txt; do sleep 0.2; done',
    );
    return await laptop.run(
      `sleep ${WATCHED_S}; cat watch.txt; kill -STOP $(cat watch); sleep ${WATCHED_S}; kill -9 $(cat watch); sleep 1`,
    );
  } finally {
    clearInterval(foot);
    laptop.board.board.pedal(false);
  }
}

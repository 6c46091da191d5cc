import type { Duplex } from 'node:stream';
import type { Clock } from '../../clock.js';
import { Board, isLikelyTime } from './board.js';
import { onExitSignals } from './exit-signals.js';
import { sayHello } from './handshake.js';
import { Link } from './link.js';
import { type LinkOptions, linkSetup, type Patience, type PortHolder } from './link-options.js';
import { openWhenFree } from './open-when-free.js';
import { notePort } from './port-note.js';
import { watchPort } from './port-watch.js';
import { Requests } from './requests.js';
import { openSerialPort, type Ports, usualBaudRate } from './serial-port.js';

export interface OpenBoardOptions extends LinkOptions {
  readonly signal?: AbortSignal;
  readonly baudRate?: number;
  /** Where ports are looked for and opened; left out, at the operating system. */
  readonly ports?: Ports;
  /** Open a board of another version all the same: its log can be pulled, every other call throws. */
  readonly acceptOtherVersion?: boolean;
  /** Gives the board this laptop's time at once, so that the log has wall time; true unless told otherwise. */
  readonly setClock?: boolean;
  /** What others are told that find the port busy; left out, they are told of no program. */
  readonly holder?: PortHolder;
  /** Waits for a port that another command has; left out, it is refused at once. */
  readonly patience?: Patience;
  /** Closes the port when this process is told to end; true for a path unless told otherwise. */
  readonly closeOnSignals?: boolean;
}

/**
 * Opens the board at a serial port, or at the other end of any byte stream.
 * @throws VersionMismatchError when the two sides are out of step, NoBoardError when nothing answers as a board,
 *   BoardLostError when it goes away meanwhile, the errors of `openSerialPort`, the signal's reason when aborted. Whatever it throws, the port is closed again.
 */
export async function openBoard(where: string | Duplex, options: OpenBoardOptions = {}): Promise<Board> {
  options.signal?.throwIfAborted();
  const isPath = typeof where === 'string';
  const isOfSystem = isPath && options.ports === undefined;
  const setup = linkSetup(options);
  const stream = isPath ? await openPort(where, setup.clock, options) : where;
  const link = new Link(stream, isPath ? where : 'the stream handed in', setup.clock, options.observe);
  const offSignals = (options.closeOnSignals ?? isOfSystem) ? onExitSignals(() => link.close()) : () => {};
  const endWatch = isOfSystem
    ? watchPort(where, setup.clock, () => link.fail('its port went away'))
    : () => {};
  const forget = isOfSystem && options.holder !== undefined ? notePort(where, options.holder) : () => {};
  const lost = () => {
    endWatch();
    forget();
  };
  link.listen({ received: () => {}, unreadable: () => {}, lost });
  try {
    const requests = new Requests(link, setup);
    const welcome = await sayHello(link, requests, setup, options.signal);
    // It may have gone in the very moment of its answer, before anybody could be told so.
    if (link.end !== undefined) throw link.end;
    const board = new Board(link, requests, welcome, setup, offSignals);
    if (board.mismatch && !options.acceptOtherVersion) throw board.mismatch;
    // A laptop whose clock is not set can do all else; its evenings then have no date.
    const tellsTime = options.setClock !== false && isLikelyTime(setup.clock.epochMs());
    if (!board.mismatch && tellsTime) await board.setClock(options);
    return board;
  } catch (error) {
    offSignals();
    await link.close();
    throw error;
  }
}

function openPort(
  path: string,
  clock: Clock,
  { ports, baudRate = usualBaudRate, patience, signal }: OpenBoardOptions,
): Promise<Duplex> {
  const open = () => (ports?.open ?? openSerialPort)(path, baudRate);
  return patience === undefined ? open() : openWhenFree(open, patience, clock, signal);
}

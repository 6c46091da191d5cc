import { lightsUs, ProbeBoard } from '../probe-board.js';

const FOUND_US = 400_000;
const RESETS = 400;
/** No multiple of a frame, so that resets strike at every place of it. */
const RESET_EVERY_US = 397;
const RESET_US = 150;

/** A board whose exposure is of `onUs`, at a laptop that has found it over USB. */
function withExposure(onUs: number): ProbeBoard {
  const board = new ProbeBoard();
  const port = board.usbCable.plug();
  board.advanceUs(FOUND_US);
  port.write(`${onUs}x`);
  board.advanceUs(20_000);
  return board;
}

/** From now on the USB cable is full both ways, and the laptop asks for everything about the board over and over. */
function keepFull(board: ProbeBoard): () => void {
  let full = true;
  const { host } = board.usbCable;
  const ask = () => {
    if (!full) return;
    host.begin(host.control({ type: 0x80, request: 6, value: 0x0200, length: 255 }), ask);
  };
  const feed = () => {
    if (!full) return;
    board.usbCable.port?.write(Buffer.alloc(64, '\n'), feed);
    board.usbCable.port?.read();
  };
  board.usbCable.port!.write('1q1v');
  ask();
  feed();
  return () => {
    full = false;
    board.usbCable.port?.write('0v');
  };
}

export interface Disturbed {
  readonly board: ProbeBoard;
  /** How long the lamp was on. */
  readonly lightUs: number;
  /** From the pedal's edge to the lamp's. */
  readonly delayUs: number;
}

function expose(board: ProbeBoard, onUs: number): Disturbed {
  const downUs = board.exactUs;
  board.pedal(true);
  board.advanceUs(onUs + 20_000);
  return { board, lightUs: lightsUs(board.lampEdges)[0]!, delayUs: board.lampEdges[0]!.atUs - downUs };
}

/** An exposure while the cable is full both ways. */
export function exposeUnderUsbFlood(onUs: number): Disturbed {
  const board = withExposure(onUs);
  const rest = keepFull(board);
  board.advanceUs(10_000);
  const disturbed = expose(board, onUs);
  rest();
  return disturbed;
}

/** An exposure while the bus is reset over and over: how often it was, until the lamp had gone off. */
export function exposeUnderUsbResets(onUs: number): Disturbed & { readonly resets: number } {
  const board = withExposure(onUs);
  let resets = 0;
  const shake = () => {
    const { usb } = board.chip;
    usb.resetBus();
    board.timeline.at(board.nowUs + RESET_US, () => usb.endReset());
    if (++resets < RESETS) board.timeline.at(board.nowUs + RESET_EVERY_US, shake);
  };
  shake();
  board.advanceUs(5_000);
  return { ...expose(board, onUs), resets };
}

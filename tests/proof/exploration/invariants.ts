import { decodeLine, encodeLine, type Message } from '../../../shared-protocol/index.js';
import { runState } from '../../../shared-protocol/schema.js';
import { greet, hold, tap } from './actions.js';
import { type BoardState, type ExploredBoard, Violation } from './explored-board.js';

const QUIET_US = 500_000;
const DEAF_US = 300_000;
const LET_GO_US = 60_000;
const HOLDS_TO_REST = 2;
const PRESS_US = 1_000;
const HOLD_US = 850_000;
/** The lamp may wait for the log's entry, and that for a sector. */
const LOG_WAIT_US = 200_000;

const CLICK_US = 300_000;
/** Kinds of work that the knob goes along at rest. */
const MOST_WORK = 16;

const inState = (board: ExploredBoard, state: (typeof runState.options)[number]) =>
  runState.options[board.core.stateNow()] === state;

/** From every state two holds of the pedal lead to rest with the lamp off. */
export function checkWayBack(board: ExploredBoard, state: BoardState): void {
  board.put(state);
  letGo(board);
  board.advanceUs(QUIET_US);
  for (let holds = 0; holds <= HOLDS_TO_REST; holds++) {
    if (inState(board, 'rest') && !board.lampOn && !board.core.startWantedNow()) return;
    if (holds === HOLDS_TO_REST) break;
    hold(board);
    board.advanceUs(QUIET_US);
  }
  throw new Violation(
    `two holds of the pedal do not lead to rest, but to ${runState.options[board.core.stateNow()]}`,
  );
}

/** The foot off the pedal, and the contact at peace: a press while it still bounces is no new press. */
function letGo(board: ExploredBoard): void {
  if (board.around.pedalDown) board.pedal(false);
  board.advanceUs(Math.max(0, board.around.pedalUs + LET_GO_US - board.around.nowUs));
}

/** How a prompt on the panel is put to the test: the gesture, and what must be so after it. */
interface PromptTest {
  readonly words: RegExp;
  readonly gesture: (board: ExploredBoard) => void;
  readonly gestureUs: number;
  readonly kept: (board: ExploredBoard, start: BoardState) => boolean;
}

const press = (board: ExploredBoard) => {
  board.pedal(true);
  board.advanceUs(PRESS_US);
};
const longPress = (board: ExploredBoard) => {
  board.pedal(true);
  board.advanceUs(HOLD_US);
  board.advanceUs(LOG_WAIT_US);
};
const tapAndWait = (board: ExploredBoard) => {
  tap(board);
  board.advanceUs(LOG_WAIT_US);
};

/**
 * Why nothing can be begun stands below, and how it can again: a laptop collects a full log; for all else the knob has other
 * work.
 */
function findWayOn(board: ExploredBoard): void {
  // A push that was begun is another gesture, and leads on by itself.
  if (board.around.knobDown) board.knobPush(false);
  board.advanceUs(CLICK_US);
  for (let clicks = 0; clicks < 2 * MOST_WORK && board.around.prompt.startsWith('Turn knob'); clicks++) {
    if (board.around.rows[3] === 'Log full: collect it') collectLog(board);
    else board.knobTurn(clicks < MOST_WORK ? 1 : -1);
    board.advanceUs(CLICK_US);
  }
}

function collectLog(board: ExploredBoard): void {
  greet(board);
  board.receive(encodeLine({ type: 'forget', id: 2, uptoSeq: board.core.endSeqNow() - 1 }));
}

const tapped = { gesture: tapAndWait, gestureUs: 400_000 };
const held = { gesture: longPress, gestureUs: 1_100_000 };
const pressed = { gesture: press, gestureUs: 2_000 };
/** Another sheet, or more of the same; back to rest where that has become impossible, as a full log makes it. */
const goneOn = (board: ExploredBoard) =>
  inState(board, 'ready') ||
  inState(board, 'step-ready') ||
  inState(board, 'lens-check') ||
  inState(board, 'rest');
const atRest = (board: ExploredBoard) => inState(board, 'rest') && !board.lampOn;
/** The rest of a pulse may be so short that it is over by now. */
const exposing = (board: ExploredBoard, start: BoardState) =>
  (inState(board, 'exposing') && board.lampOn) || board.around.paperUs > start.around.paperUs;

/** Everything that row 0 of the panel may say, and what a press must then do. */
const prompts: readonly PromptTest[] = [
  {
    words: /^Tap (strip|print|test|sheet Hold focus)/,
    ...tapped,
    kept: (board) => inState(board, 'ready') && !board.lampOn,
  },
  { words: /^Tap (again|sheet Hold rest)/, ...tapped, kept: (board) => goneOn(board) && !board.lampOn },
  { words: /^Tap baths/, ...tapped, kept: (board) => inState(board, 'step-ready') && !board.lampOn },
  { words: /^Tap (bath|begin) /, ...tapped, kept: (board) => inState(board, 'timing') && !board.lampOn },
  {
    words: /^Tap next/,
    ...tapped,
    kept: (board) => (inState(board, 'step-ready') || inState(board, 'done')) && !board.lampOn,
  },
  {
    words: /^Tap at first tone/,
    ...tapped,
    kept: (board) => inState(board, 'timing') && !board.lampOn && !/^Tap at/.test(board.around.prompt),
  },
  { words: /^Tap read/, ...tapped, kept: (board) => inState(board, 'choosing') && !board.lampOn },
  { words: /^Tap check/, ...tapped, kept: (board) => inState(board, 'asking') && !board.lampOn },
  {
    words: /^Tap (yes|no) Hold rest/,
    ...tapped,
    kept: (board) =>
      ['asking', 'ready', 'rest', 'done'].some((state) => inState(board, state as 'rest')) && !board.lampOn,
  },
  { words: /^Unplugged\? Tap yes/, ...tapped, kept: (board) => inState(board, 'asking') && !board.lampOn },
  {
    words: /^Tap (accept|done) Hold rest/,
    ...tapped,
    kept: (board) => (inState(board, 'rest') || inState(board, 'choosing')) && !board.lampOn,
  },
  {
    words: /^(Filter in\? Tap$|Tap (done|yes) Hold back)/,
    ...tapped,
    kept: (board, start) =>
      inState(board, 'ready') && !board.lampOn && board.around.prompt !== start.around.prompt,
  },
  {
    words: /^Tap (keep|set) /,
    ...tapped,
    kept: (board) => (inState(board, 'rest') || inState(board, 'done')) && !board.lampOn,
  },
  { words: /^Tap clock/, ...tapped, kept: (board) => inState(board, 'asking') && !board.lampOn },
  { words: /^Tap lens/, ...tapped, kept: (board) => inState(board, 'lens-check') && !board.lampOn },
  { words: /^Tap (start|go on Hold end)/, ...tapped, kept: exposing },
  {
    words: /^Tap go on Hold focus/,
    ...tapped,
    kept: (board) => (inState(board, 'ready') || inState(board, 'rest')) && !board.lampOn,
  },
  {
    words: /^Turn knob/,
    gesture: findWayOn,
    gestureUs: 0,
    kept: (board) => !board.lampOn && /^(Tap|Stopped down)/.test(board.around.prompt),
  },
  { words: /Hold:? focus/, ...held, kept: (board) => inState(board, 'focus') && board.lampOn },
  { words: /Hold:? (back|end|rest)/, ...held, kept: atRest },
  {
    words: /^Stopped down\? Hold/,
    ...held,
    kept: (board) => atRest(board) && board.core.lensConfirmedNow() === 1,
  },
  { words: /^Press: light off/, ...pressed, kept: (board) => !board.lampOn && !inState(board, 'focus') },
  { words: /^Press pause/, ...pressed, kept: (board) => !board.lampOn && inState(board, 'paused') },
  {
    words: /^Press: cancel/,
    ...pressed,
    kept: (board) => !board.lampOn && !board.core.startWantedNow(),
  },
  {
    words: /^Wait for the laptop/,
    gesture: () => {},
    gestureUs: 0,
    kept: (board) => inState(board, 'leaving') && !board.lampOn,
  },
  {
    words: /^Let go of the pedal/,
    gesture: () => {},
    gestureUs: 0,
    kept: (board) => inState(board, 'stuck') && !board.lampOn,
  },
];

/** What the panel says of the next press is what the next press does; answers how many prompts were tried. */
export function checkPrompt(board: ExploredBoard, state: BoardState): number {
  board.put(state);
  const stuck = inState(board, 'stuck');
  if (!stuck) letGo(board);
  // The lamp may go out meanwhile, and that is followed by a moment of deafness too.
  for (let waits = 0; waits < 2 && board.core.deafNow(BigInt(board.around.nowUs)); waits++)
    board.advanceUs(DEAF_US);
  const { prompt } = board.around;
  const promised = prompts.filter(({ words }) => words.test(prompt));
  if (promised.length === 0) throw new Violation(`the panel says '${prompt}', which no test knows`);
  const start = board.take();
  let tried = 0;
  for (const { words, gesture, gestureUs, kept } of promised) {
    board.put(start);
    // A lamp that goes out by itself in the middle of a gesture is another story than the one promised.
    if (board.around.lampOffUs - board.around.nowUs <= gestureUs) continue;
    gesture(board);
    tried++;
    if (!kept(board, start) && !failedFlashExplains(board, start))
      throw new Violation(
        `the panel said '${prompt}', but ${words} led to ${runState.options[board.core.stateNow()]}, lamp ${board.lampOn ? 'on' : 'off'}`,
      );
  }
  return tried;
}

/** A lamp that the log's failure kept off is as it should be; the panel says so afterwards. */
function failedFlashExplains(board: ExploredBoard, start: BoardState): boolean {
  return start.around.flashFailed && !board.lampOn;
}

/** Nothing waits to be shown or said: asked to draw and tell anew, by a turn of no detents, the core has nothing to add. */
export function checkSettled(board: ExploredBoard, state: BoardState): void {
  board.put(state);
  board.knobTurn(0);
  const shown = board.around.rows.join(' | ');
  const before = state.around.rows.join(' | ');
  if (shown !== before) throw new Violation(`the panel says '${before}' where '${shown}' is so`);
  if (board.sent !== '') throw new Violation(`the laptop had not yet been told '${board.sent.trimEnd()}'`);
  if (board.lampOn !== state.around.lampSinceUs >= 0)
    throw new Violation('the lamp changed where nothing happened');
}

const MOST_ENTRIES = 64;
/** Each entry rounds its lamp time to the millisecond. */
const ROUNDING_MS = 0.5;

/** Where nothing is pending, the log accounts for every millisecond that the lamp was on over paper; answers how many were compared. */
export function checkAccount(board: ExploredBoard, state: BoardState): number {
  board.put(state);
  letGo(board);
  board.advanceUs(QUIET_US);
  if (board.lampOn || !['rest', 'done', 'choosing'].some((state) => inState(board, state as 'rest')))
    return 0;
  if (board.around.flashFailed || board.around.wasCutInLight) return 0;
  const entries = readLog(board);
  const exposures = entries.filter((entry) => entry.type === 'exposure' && entry.kind !== 'focus');
  let loggedMs = 0;
  for (const entry of exposures) {
    if (entry.type !== 'exposure') continue;
    loggedMs += entry.onMs;
    if (entry.outcome === 'complete' && Math.abs(entry.doseMs - entry.plannedMs) > 1)
      throw new Violation(`${entry.plannedMs} ms were planned, ${entry.doseMs} given, and called complete`);
  }
  const lampMs = board.around.paperUs / 1000;
  if (Math.abs(loggedMs - lampMs) > ROUNDING_MS * exposures.length + 1e-6)
    throw new Violation(`the lamp was on for ${lampMs} ms over paper, the log has ${loggedMs} ms`);
  return exposures.length;
}

function readLog(board: ExploredBoard): Message[] {
  board.sent = '';
  board.receive(`\n${encodeLine({ type: 'collect', id: 9, fromSeq: 1, count: MOST_ENTRIES })}`);
  return board.sent
    .split('\n')
    .slice(0, -1)
    .flatMap((line) => {
      const decoded = decodeLine(line);
      if (!decoded.ok) throw new Violation(`the board said ${line}: ${decoded.why}`);
      return decoded.message.id === 9 ? [decoded.message] : [];
    });
}

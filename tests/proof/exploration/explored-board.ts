import type { CoreEffects } from '../../../host/core/generated/core-interface.js';
import { exposureKind } from '../../../shared-protocol/choices.js';
import { limits } from '../../../shared-protocol/limits.js';
import { runState } from '../../../shared-protocol/schema.js';
import { markOfFullLog } from '../../setup/full-log.js';
import { type CoreState, CoreWithState, type ExploredCore } from './explored-core.js';

/** The flash is busy so long with a page and with a sector, as in the simulated board. */
const PROGRAM_US = 400;
const ERASE_US = 45_000;
const NEVER_US = 2n ** 63n - 1n;
const START_US = 1_000_000;
/** From the pedal to the lamp: a hold, and the log's entry written, with two sectors erased before it. */
const LONGEST_WAIT_US = 1_500_000;

/** From the hand's turn to the board's leaving. */
const LEAVE_US = 1_000_000;

const LIT_STATES = new Set([runState.options.indexOf('focus'), runState.options.indexOf('exposing')]);

/** Where the panel names a light, and a tap gives it. */
const PASS_STATES = new Set(
  (['ready', 'paused', 'between-dodges'] as const).map((state) => runState.options.indexOf(state)),
);

/** Something that must never happen. */
export class Violation extends Error {
  override readonly name = 'Violation';
}

interface FlashOperation {
  readonly offset: number;
  /** What is programmed; nothing for an erase. */
  readonly data: Uint8Array | undefined;
  readonly doneUs: number;
}

/** The flash's pages that are not erased; a page is never changed in place, so copies of a board share it. */
type Pages = ReadonlyMap<number, Uint8Array>;

/** Everything of a board that is not in its core, as plain values: copying them copies the board. */
interface Surroundings {
  readonly nowUs: number;
  readonly lampSinceUs: number;
  readonly lampOffUs: number;
  readonly wakeUs: number;
  readonly operation: FlashOperation | undefined;
  readonly pages: Pages;
  readonly pedalDown: boolean;
  readonly knobDown: boolean;
  /** When the pedal's contact last changed. */
  readonly pedalUs: number;
  /** When the knob was last turned right. */
  readonly turnedRightUs: number;
  readonly prompt: string;
  /** The panel's rows; the first is the prompt. */
  readonly rows: readonly string[];
  /** The sheet on which the panel asked since rest, in words, whether a pass is to be left out or given again. */
  readonly askedOfSheet: number;
  /** The panel asked, since rest, whether the mains box is unplugged. */
  readonly askedOfMains: boolean;
  /** Lamp time on paper since the start, to hold the log's account against. */
  readonly paperUs: number;
  /** The flash failed at some time, so that an entry may rightly be missing. */
  readonly flashFailed: boolean;
  /** The power was cut between an entry's beginning and its end: the log owns up to it, and cannot tell how much it was. */
  readonly wasCutInLight: boolean;
}

type Changing<Type> = { -readonly [Key in keyof Type]: Type[Key] };

export interface BoardState {
  readonly core: CoreState;
  readonly around: Surroundings;
}

const freshSurroundings: Surroundings = {
  nowUs: START_US,
  lampSinceUs: -1,
  lampOffUs: Number.POSITIVE_INFINITY,
  wakeUs: Number.POSITIVE_INFINITY,
  operation: undefined,
  pages: new Map(),
  pedalDown: false,
  knobDown: false,
  pedalUs: Number.NEGATIVE_INFINITY,
  turnedRightUs: Number.NEGATIVE_INFINITY,
  prompt: '',
  rows: ['', '', '', ''],
  askedOfSheet: -1,
  askedOfMains: false,
  paperUs: 0,
  flashFailed: false,
  wasCutInLight: false,
};

/**
 * A board round the core that can be put into any state that it was taken out of. It watches what a board layer would
 * have to refuse: light from the line, light while the flash is written, two flash operations at once.
 */
export class ExploredBoard {
  readonly #cpu: CoreWithState;
  #around: Changing<Surroundings> = { ...freshSurroundings };
  #handlingLine = false;
  #ended: number[] = [];
  #refusedFlash = false;
  readonly #unpowered: CoreState;
  /** What the core sent since this was emptied. */
  sent = '';

  constructor(module: WebAssembly.Module) {
    this.#cpu = new CoreWithState(this.#effects(), module);
    this.#unpowered = this.#cpu.take();
    this.#tell((core, nowUs) => core.boot(nowUs, 0, 0));
  }

  get core(): ExploredCore {
    return this.#cpu.core;
  }

  get around(): Surroundings {
    return this.#around;
  }

  get lampOn(): boolean {
    return this.#around.lampSinceUs >= 0;
  }

  get isAtRest(): boolean {
    return runState.options[this.core.stateNow()] === 'rest';
  }

  /** What a person would see of it, for an account of a way through the states. */
  get words(): string {
    return `${runState.options[this.core.stateNow()]}, lamp ${this.lampOn ? 'on' : 'off'}, '${this.#around.prompt}'`;
  }

  take(): BoardState {
    return { core: this.#cpu.take(), around: { ...this.#around } };
  }

  put(state: BoardState): void {
    this.#cpu.put(state.core);
    this.#around = { ...state.around };
    this.#ended = [];
    this.sent = '';
  }

  fingerprint(): bigint {
    const { pedalDown, knobDown, operation } = this.#around;
    const flash = operation === undefined ? 0 : operation.data === undefined ? 2 : 1;
    const outside = Number(pedalDown) | (Number(knobDown) << 1) | (flash << 2) | (Number(this.lampOn) << 4);
    return this.core.fingerprint(BigInt(this.#around.nowUs), outside);
  }

  /** When the next thing happens by itself. */
  get nextUs(): number {
    const { lampOffUs, wakeUs, operation } = this.#around;
    return Math.min(lampOffUs, wakeUs, operation?.doneUs ?? Number.POSITIVE_INFINITY);
  }

  /** Lets time pass, with everything that is due in it. */
  advanceUs(us: number): void {
    const untilUs = this.#around.nowUs + us;
    for (let next = this.nextUs; next <= untilUs; next = this.nextUs) {
      this.#set({ nowUs: Math.max(next, this.#around.nowUs) });
      this.#happen();
    }
    this.#set({ nowUs: untilUs });
  }

  pedal(down: boolean): void {
    this.#set({ pedalDown: down, pedalUs: this.#around.nowUs });
    this.#tell((core, nowUs) => core.pedalEdge(Number(down), nowUs));
  }

  knobPush(down: boolean): void {
    this.#set({ knobDown: down });
    this.#tell((core, nowUs) => core.knobEdge(Number(down), nowUs));
  }

  knobTurn(detents: number): void {
    if (detents > 0) this.#set({ turnedRightUs: this.#around.nowUs });
    this.#tell((core, nowUs) => core.knobTurned(detents, nowUs));
  }

  receive(line: string): void {
    this.#handlingLine = true;
    const nowUs = BigInt(this.#around.nowUs);
    for (let at = 0; at < line.length; at++) {
      this.core.received(line.charCodeAt(at), nowUs);
      this.#settle(nowUs);
    }
    this.#handlingLine = false;
  }

  /** The flash operation under way fails, having done nothing. */
  failFlash(): void {
    this.#set({ operation: undefined, flashFailed: true });
    this.#tell((core, nowUs) => core.flashDone(0, nowUs));
  }

  /** The power is cut and comes back; of what was being programmed the first half is done, of an erase nothing. */
  cutPower(): void {
    const { pages, operation, paperUs, flashFailed, wasCutInLight } = this.#around;
    const left = operation?.data === undefined ? pages : changed(pages, firstHalf(operation));
    const isOpen = this.lampOn || operation !== undefined || this.core.entryIsSafe() !== 0;
    const isCutInLight = wasCutInLight || isOpen;
    this.#cpu.put(this.#unpowered);
    this.#ended = [];
    const kept = { pages: left, paperUs, flashFailed, wasCutInLight: isCutInLight };
    this.#around = { ...freshSurroundings, ...kept };
    this.#tell((core, nowUs) => core.boot(nowUs, 0, 0));
    this.advanceUs(START_US);
  }

  /** The log in the flash is one that was written all round since it was last collected, but for so many sectors. */
  fillLog(sectorsLeft: number): void {
    const { offset, mark } = markOfFullLog(sectorsLeft);
    this.#set({ pages: changed(this.#around.pages, { offset, data: mark, doneUs: 0 }) });
    this.cutPower();
  }

  #set(change: Partial<Surroundings>): void {
    Object.assign(this.#around, change);
  }

  #happen(): void {
    const { nowUs, lampOffUs, wakeUs, operation } = this.#around;
    if (lampOffUs <= nowUs) {
      this.#switchOff();
      this.#tell(() => {});
    } else if (operation !== undefined && operation.doneUs <= nowUs) {
      this.#set({ operation: undefined, pages: changed(this.#around.pages, operation) });
      this.#tell((core, at) => core.flashDone(1, at));
    } else if (wakeUs <= nowUs) {
      this.#set({ wakeUs: Number.POSITIVE_INFINITY });
      this.#tell((core, at) => core.deadline(at));
    }
  }

  #tell(event: (core: ExploredCore, nowUs: bigint) => void): void {
    const nowUs = BigInt(this.#around.nowUs);
    event(this.core, nowUs);
    this.#settle(nowUs);
  }

  /** What an event made happen at the same moment, and what must be so after it. */
  #settle(nowUs: bigint): void {
    while (this.#ended.length > 0 || this.#refusedFlash) {
      if (this.#refusedFlash) {
        this.#refusedFlash = false;
        this.core.flashDone(0, nowUs);
      } else this.core.lampEnded(this.#ended.shift()!, nowUs);
    }
    if (this.lampOn && !LIT_STATES.has(this.core.stateNow()))
      throw new Violation(`the lamp is on in state ${runState.options[this.core.stateNow()]}`);
    if (this.lampOn && this.core.litForPaper() && !this.core.entryIsSafe())
      throw new Violation('the lamp is on over paper, and its entry is not in the log');
  }

  #effects(): CoreEffects {
    const bytes = (at: number, length: number) => new Uint8Array(this.core.memory.buffer, at >>> 0, length);
    return {
      exposeUs: (onUs) => this.#light(onUs >>> 0),
      focusUs: (limitUs) => this.#light(limitUs >>> 0),
      lampOff: () => this.#switchOff(),
      safelight: () => {},
      makeWay: () => this.#makeWay(),
      wakeAtUs: (atUs) => this.#set({ wakeUs: atUs === NEVER_US ? Number.POSITIVE_INFINITY : Number(atUs) }),
      showLine: (row, text, length) => {
        if (length > limits.displayColumns) throw new Violation(`a row of ${length} characters`);
        this.#show(row, Buffer.from(bytes(text, length)).toString('latin1').trimEnd());
      },
      displayLight: () => {},
      tone: () => {},
      sendBytes: (from, length) => {
        this.sent += Buffer.from(bytes(from, length)).toString('latin1');
        return 1;
      },
      flashRead: (offset, into, length) => this.#readFlash(offset >>> 0, bytes(into, length)),
      flashProgram: (offset, from, length) =>
        this.#changeFlash({ offset: offset >>> 0, data: bytes(from, length).slice(), doneUs: PROGRAM_US }),
      flashErase: (offset) => this.#changeFlash({ offset: offset >>> 0, data: undefined, doneUs: ERASE_US }),
      boardId: (into) => bytes(into, 8).fill(7),
      linkFaults: () => 0,
    };
  }

  /** New firmware is nothing that a line, or the time alone, may bring about. */
  #makeWay(): void {
    const { operation, turnedRightUs, nowUs } = this.#around;
    if (this.#handlingLine) throw new Violation('the line made the board leave for new firmware');
    if (this.lampOn) throw new Violation('the board left for new firmware with the lamp on');
    if (operation !== undefined) throw new Violation('the board left with the flash being written');
    if (nowUs - turnedRightUs > LEAVE_US)
      throw new Violation('the board left, and no hand had turned the knob');
  }

  #show(row: number, text: string): void {
    if (this.#around.rows[row] === text) return;
    if (!/^[\x20-\x7e]*$|^\xff{20}$/.test(text))
      throw new Violation(`the panel shows ${JSON.stringify(text)}`);
    const rows = this.#around.rows.with(row, text);
    this.#set({ rows, prompt: rows[0]! });
    // Whoever comes back from rest, or from power-off, is asked once more.
    if (rows[0]!.endsWith('Hold focus')) this.#set({ askedOfMains: false, askedOfSheet: -1 });
    if (rows[0]!.startsWith('Unplugged?')) this.#set({ askedOfMains: true });
    if (rows[0] === 'Tap yes Hold back') this.#set({ askedOfSheet: this.core.sheetNow() });
  }

  #text(at: number): string {
    const length = new Uint8Array(this.core.memory.buffer)[at]!;
    return Buffer.from(new Uint8Array(this.core.memory.buffer, at + 1, length)).toString('latin1');
  }

  /**
   * Before a pass the panel has named it, of how many it is, its kind, its time, its filter and what the hand does; and none
   * is left out or given again without words for it.
   */
  #holdToWhatIsShown(): void {
    const { core } = this;
    const { rows, askedOfSheet } = this.#around;
    const pass = core.passNow();
    const shown = rows.join(' | ');
    const kind = exposureKind.options[core.kindNow()]!;
    if (kind === 'checkup' && !this.#around.askedOfMains)
      throw new Violation('the relay clicks, and nobody said that the mains box is unplugged');
    const words = wordsOfLight(kind, pass, core.passesNow(), core.patchNow());
    if (!words.test(shown))
      throw new Violation(`the lamp gives ${kind} ${pass}, and the panel said '${shown}' and not ${words}`);
    const time = `${(Math.floor((core.nextMs() + 5) / 10) / 100).toFixed(2)} s`;
    if (core.pulsesNow() === 1 && !rows[1]!.startsWith(time))
      throw new Violation(`the lamp gives ${time}, and the panel said '${shown}'`);
    const isPrint = kind === 'base' || kind === 'burn';
    if (isPrint ? rows[2] !== this.#text(core.labelNow()) : rows[2] === '')
      throw new Violation(`the panel says nothing of hand or card, but '${shown}'`);
    const filter = this.#text(core.filterNow());
    if (filter !== '' && !rows[1]!.endsWith(filter))
      throw new Violation(`the lamp gives filter ${filter}, and the panel said '${rows.join(' | ')}'`);
    if (core.isOutOfTurn() && !core.isRestOfPass() && askedOfSheet !== core.sheetNow())
      throw new Violation(`pass ${pass} is given out of turn, and the panel never asked`);
  }

  #light(forUs: number): void {
    if (this.#handlingLine) throw new Violation('the lamp came on by a line');
    if (this.#around.operation !== undefined)
      throw new Violation('the lamp came on while the flash was written');
    if (this.lampOn) throw new Violation('the lamp came on while it was on');
    if (!this.core.isPulsing() && this.#around.nowUs - this.#around.pedalUs > LONGEST_WAIT_US)
      throw new Violation('the lamp came on though nobody touched the pedal');
    if (PASS_STATES.has(this.core.stateNow())) this.#holdToWhatIsShown();
    this.#set({ lampSinceUs: this.#around.nowUs, lampOffUs: this.#around.nowUs + forUs });
  }

  #switchOff(): void {
    const { lampSinceUs, nowUs, paperUs } = this.#around;
    if (lampSinceUs < 0) return;
    const onUs = nowUs - lampSinceUs;
    const paper = this.core.litForPaper() ? onUs : 0;
    this.#set({ lampSinceUs: -1, lampOffUs: Number.POSITIVE_INFINITY, paperUs: paperUs + paper });
    this.#ended.push(onUs);
  }

  #readFlash(offset: number, into: Uint8Array): void {
    for (let at = 0; at < into.length; ) {
      const start = (offset + at) % limits.pageBytes;
      const length = Math.min(into.length - at, limits.pageBytes - start);
      const page = this.#around.pages.get(Math.floor((offset + at) / limits.pageBytes));
      if (page === undefined) into.fill(0xff, at, at + length);
      else into.set(page.subarray(start, start + length), at);
      at += length;
    }
  }

  #changeFlash(operation: FlashOperation): void {
    if (this.#around.operation !== undefined) throw new Violation('two flash operations at once');
    if (this.lampOn) this.#refusedFlash = true;
    else this.#set({ operation: { ...operation, doneUs: this.#around.nowUs + operation.doneUs } });
  }
}

/** What the panel must say before a light of that kind: which pass, of how many. */
function wordsOfLight(
  kind: (typeof exposureKind.options)[number],
  pass: number,
  passes: number,
  patch: number,
): RegExp {
  switch (kind) {
    case 'base':
    case 'burn':
      return new RegExp(`(?:${kind}, pass|Dodge \\d+/\\d+ pass) ${pass}/${passes}(?!\\d)`, 'i');
    case 'bracket':
      return new RegExp(`(?:Burn|Base) ${pass}/${passes}: ${patch}/`);
    case 'strip':
      return new RegExp(`Patch ${pass}/${passes} `);
    case 'safelight':
    case 'stray':
      return new RegExp(`grey ${pass}/${passes} `);
    case 'lamp-test':
      return patch === 0 ? /To compare: 7 follow/ : new RegExp(`Patch ${patch}/${passes - 1} `);
    case 'plain':
      return /Plain exposure/;
    case 'checkup':
      return /Lamp relay/;
    default:
      throw new Violation(`no light on paper is of the kind ${kind}`);
  }
}

function firstHalf(operation: FlashOperation): FlashOperation {
  return { ...operation, data: operation.data?.subarray(0, operation.data.length >> 1) };
}

const PAGES_IN_SECTOR = limits.sectorBytes / limits.pageBytes;

/** A page is never programmed over its end. */
function changed(pages: Pages, { offset, data }: FlashOperation): Pages {
  const after = new Map(pages);
  const first = Math.floor(offset / limits.pageBytes);
  if (data === undefined) {
    for (let page = first; page < first + PAGES_IN_SECTOR; page++) after.delete(page);
    return after;
  }
  const page = pages.get(first)?.slice() ?? new Uint8Array(limits.pageBytes).fill(0xff);
  const start = offset % limits.pageBytes;
  if (start + data.length > limits.pageBytes)
    throw new Violation('the flash was programmed over the end of a page');
  for (let at = 0; at < data.length; at++) page[start + at]! &= data[at]!;
  after.set(first, page);
  return after;
}

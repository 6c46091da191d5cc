import { linkFault, startCause } from '../../../shared-protocol/schema.js';
import type { Core, CoreEffects } from '../../core/generated/core-interface.js';
import { coreModule, startCore } from '../../core/load-core.js';
import type { CoreMemory, CoreModule } from '../../core/webassembly.js';
import { BoardFace } from './board-face.js';
import type { BoardHome, LampEdge, ResetCause, ToneChange } from './board-home.js';
import { FlashMemory, flashTimesUs, PowerCut } from './flash-memory.js';
import { LampRelay } from './lamp-relay.js';
import { RealTimePace } from './real-time-pace.js';
import { type Cable, SerialLine } from './serial-line.js';
import { Timeline } from './timeline.js';
import { LampByLine, trapDetail, WayByLine } from './traps.js';

/** A board that stopped itself is back after this: the watchdog's reset and the boot. */
const RESTART_US = 50_000;
/** Of a board that nobody gave another. */
const USUAL_ID = '4980858873e65b3b';
/** A cell of which every dot is on. */
const ALL_DOTS = '\u00ff';
const NEVER_US = 2n ** 63n - 1n;

export interface CoreBoardOptions {
  /** A flash of your own, for instance one with faults on purpose. */
  readonly flash?: FlashMemory;
  /** Paces the serial line; without it bytes arrive at once. */
  readonly baud?: number;
  /** Goes on as real time does, this many times as fast; without it only when `advanceUs` is called. */
  readonly speed?: number;
  /** A timeline shared with others, for instance the host's clock. */
  readonly timeline?: Timeline;
  /** 16 hexadecimal digits. */
  readonly boardId?: string;
  /** Another build of the core, for instance one that traps. */
  readonly module?: CoreModule;
  /** False leaves the board without power until `restorePower`. */
  readonly powered?: boolean;
}

export interface BoardChanges {
  lamp: [edge: LampEdge];
  panel: [row: number, text: string];
  tone: [change: ToneChange];
  /** The core has started, for this reason. */
  started: [cause: ResetCause, detail: number];
  /** It made way for new firmware: a chip would be a drive now. `startNewFirmware` is what comes of that. */
  left: [];
}

/**
 * A board made of the very core that runs on the chip, a model of its flash and a timeline. It keeps the same
 * promises to the core as the board layer in C, and breaks off the same way: a trap, or light asked for while
 * bytes from the line are handled, puts the lamp out and starts the core anew. Nothing of Node is needed.
 */
export class CoreBoard implements Omit<BoardHome, 'plug'> {
  readonly flash: FlashMemory;
  readonly id: string;
  readonly timeline: Timeline;
  /** The serial hardware's sticky counters, by name of the LinkFault; tests raise them. */
  readonly linkFaults = new Map<string, number>();

  protected readonly line: SerialLine;
  #pace: RealTimePace | undefined;
  readonly #listeners: { [Change in keyof BoardChanges]: Set<(...told: BoardChanges[Change]) => void> } = {
    lamp: new Set(),
    panel: new Set(),
    tone: new Set(),
    started: new Set(),
    left: new Set(),
  };
  readonly #lamp: LampRelay;
  readonly #face: BoardFace;
  readonly #module: CoreModule;
  #core: Core | undefined;
  #startedUs = 0;
  #cancelWake = () => {};
  #flashBusy = false;
  #handlingLine = false;
  #pedalDown = false;
  #knobDown = false;
  /** Rises with every start and stop: what an earlier run asked for no longer happens. */
  #run = 0;

  constructor(options: CoreBoardOptions = {}) {
    this.flash = options.flash ?? new FlashMemory();
    this.id = options.boardId ?? USUAL_ID;
    this.timeline = options.timeline ?? new Timeline();
    this.#module = options.module ?? coreModule();
    this.line = new SerialLine(this.timeline, options.baud, {
      received: (byte) => this.#receive(byte),
      writable: () => this.#tell((core, nowUs) => core.writable(nowUs)),
      catchUp: () => this.#catchUp(),
    });
    this.#lamp = new LampRelay(this.timeline, {
      edge: (edge) => this.#say('lamp', edge),
      ended: (onUs) => this.#later(this.timeline.nowUs, (core, nowUs) => core.lampEnded(onUs, nowUs)),
    });
    this.#face = new BoardFace(this.timeline, {
      panel: (row, text) => this.#say('panel', row, text),
      tone: (change) => this.#say('tone', change),
    });
    this.runAt(options.speed);
    this.#face.goBlank();
    if (options.powered !== false) this.#start('power', 0);
  }

  get nowUs(): number {
    return this.timeline.nowUs;
  }

  get lampOn(): boolean {
    return this.#lamp.on;
  }

  get lampEdges(): readonly LampEdge[] {
    return this.#lamp.edges;
  }

  get panel(): readonly string[] {
    return this.#face.panel;
  }

  get tones(): readonly ToneChange[] {
    return this.#face.tones;
  }

  get safelightOn(): boolean {
    return this.#face.safelightOn;
  }

  get displayLightPercent(): number {
    return this.#face.displayLightPercent;
  }

  get powered(): boolean {
    return this.#core !== undefined;
  }

  /** Bytes the board sent while nobody read them. */
  get unreadBytes(): number {
    return this.line.lostBytes;
  }

  /** The core's memory just now, for tests that look; undefined without power. */
  get memory(): CoreMemory | undefined {
    return this.#core?.memory;
  }

  advanceUs(us: number): void {
    this.timeline.runUntil(this.timeline.nowUs + us);
  }

  /** From now on time goes by itself, this many times as fast as it really does; or only when told. */
  runAt(speed: number | undefined): void {
    this.#catchUp();
    this.#pace?.stop();
    this.#pace = speed === undefined ? undefined : new RealTimePace(this.timeline, speed);
  }

  /** Has `listener` told of every such change, as it happens. */
  on<Change extends keyof BoardChanges>(
    change: Change,
    listener: (...told: BoardChanges[Change]) => void,
  ): this {
    this.#listeners[change].add(listener);
    return this;
  }

  off<Change extends keyof BoardChanges>(
    change: Change,
    listener: (...told: BoardChanges[Change]) => void,
  ): this {
    this.#listeners[change].delete(listener);
    return this;
  }

  /** Plugs a fresh cable in; the answer takes what comes from its far end. */
  connect(cable: Cable): (bytes: Uint8Array) => void {
    this.line.plug(cable);
    return (bytes) => this.line.takeIn(cable, bytes, () => {});
  }

  /** Pulls the cable out. */
  unplug(): void {
    this.line.unplug();
  }

  pedal(down: boolean): void {
    this.#catchUp();
    if (down === this.#pedalDown) return;
    this.#pedalDown = down;
    this.#tell((core, nowUs) => core.pedalEdge(Number(down), nowUs));
  }

  knobPush(down: boolean): void {
    this.#catchUp();
    if (down === this.#knobDown) return;
    this.#knobDown = down;
    this.#tell((core, nowUs) => core.knobEdge(Number(down), nowUs));
  }

  knobTurn(detents: number): void {
    this.#catchUp();
    this.#tell((core, nowUs) => core.knobTurned(detents, nowUs));
  }

  reset(cause: ResetCause, detail = 0): void {
    this.#catchUp();
    this.#stop();
    this.#start(cause, detail);
  }

  cutPower(): void {
    this.#catchUp();
    this.#stop();
  }

  /** What new firmware does when it is there. */
  startNewFirmware(): void {
    if (this.#core === undefined) this.#start('new-firmware', 0);
  }

  restorePower(): void {
    if (this.#core !== undefined) return;
    this.#catchUp();
    this.flash.restorePower();
    this.#start('power', 0);
  }

  close(): void {
    this.#stop();
    this.#pace?.stop();
    this.line.unplug();
    this.flash.close();
  }

  #say<Change extends keyof BoardChanges>(change: Change, ...told: BoardChanges[Change]): void {
    for (const listener of [...this.#listeners[change]]) listener(...told);
  }

  #catchUp(): void {
    this.#pace?.catchUp();
  }

  #start(cause: ResetCause, detail: number): void {
    this.#run++;
    this.#startedUs = this.timeline.nowUs;
    this.#core = startCore(this.#effects(), this.#module);
    this.#tell((core, nowUs) => core.boot(nowUs, startCause.options.indexOf(cause), detail));
    if (this.#pedalDown) this.#tell((core, nowUs) => core.pedalEdge(1, nowUs));
    if (this.#knobDown) this.#tell((core, nowUs) => core.knobEdge(1, nowUs));
    this.#say('started', cause, detail);
  }

  #stop(): void {
    this.#run++;
    this.#lamp.switchOff();
    this.#core = undefined;
    this.#flashBusy = false;
    this.#cancelWake();
    this.line.drop();
    this.#face.goBlank();
  }

  /** One event for the core, and whatever it makes happen at this same moment. */
  #tell(event: (core: Core, nowUs: bigint) => void): void {
    const core = this.#core;
    if (core === undefined) return;
    try {
      event(core, BigInt(this.timeline.nowUs - this.#startedUs));
    } catch (error) {
      this.#breakOff(error);
    }
    this.timeline.runUntil(this.timeline.nowUs);
  }

  #receive(byte: number): void {
    this.#tell((core, nowUs) => {
      this.#handlingLine = true;
      try {
        core.received(byte, nowUs);
      } finally {
        this.#handlingLine = false;
      }
    });
  }

  #breakOff(error: unknown): void {
    if (error instanceof PowerCut) {
      this.#stop();
      return;
    }
    const detail = trapDetail(error);
    if (detail === undefined) throw error;
    this.#stop();
    const run = this.#run;
    this.timeline.at(this.timeline.nowUs + RESTART_US, () => {
      if (run === this.#run) this.#start('trap', detail);
    });
  }

  #effects(): CoreEffects {
    const bytes = (at: number, length: number) => new Uint8Array(this.#core!.memory.buffer, at >>> 0, length);
    return {
      exposeUs: (onUs) => this.#light(onUs >>> 0),
      focusUs: (limitUs) => this.#light(limitUs >>> 0),
      lampOff: () => this.#lamp.switchOff(),
      safelight: (on) => {
        this.#face.safelightOn = on !== 0;
      },
      makeWay: () => this.#makeWay(),
      wakeAtUs: (atUs) => this.#wakeAt(atUs),
      showLine: (row, text, length) => {
        this.#face.show(row, String.fromCharCode(...bytes(text, length)).replaceAll(ALL_DOTS, '█'));
      },
      displayLight: (percent) => {
        this.#face.displayLightPercent = percent;
      },
      tone: (hz, volumePercent) => this.#face.sound(hz, volumePercent),
      sendBytes: (from, length) => Number(this.line.send(bytes(from, length).slice())),
      flashRead: (offset, into, length) => bytes(into, length).set(this.flash.read(offset >>> 0, length)),
      flashProgram: (offset, from, length) => {
        const data = bytes(from, length).slice();
        this.#storage(flashTimesUs.program, () => this.flash.program(offset >>> 0, data));
      },
      flashErase: (offset) => this.#storage(flashTimesUs.erase, () => this.flash.erase(offset >>> 0)),
      boardId: (into) => bytes(into, 8).set(bytesOfHex(this.id)),
      linkFaults: (which) => this.linkFaults.get(linkFault.options[which] ?? '') ?? 0,
    };
  }

  /** The core is in the middle of an event, and stops when that is over. */
  #makeWay(): void {
    if (this.#handlingLine) throw new WayByLine('the core made way while it handled the serial line');
    if (this.#flashBusy) throw new Error('the core made way while the flash was being changed');
    this.#later(this.timeline.nowUs, () => {
      this.#stop();
      this.#say('left');
    });
  }

  #light(forUs: number): void {
    if (this.#handlingLine) throw new LampByLine('the core asked for light while it handled the serial line');
    if (this.#flashBusy) throw new Error('the core asked for light while the flash was being changed');
    this.#lamp.lightFor(forUs);
  }

  #wakeAt(atUs: bigint): void {
    this.#cancelWake();
    this.#cancelWake = () => {};
    if (atUs === NEVER_US) return;
    const cancel = this.#later(this.#startedUs + Number(atUs), (core, nowUs) => core.deadline(nowUs));
    this.#cancelWake = cancel;
  }

  #storage(durationUs: number, operate: () => boolean): void {
    if (this.#flashBusy)
      throw new Error('the core asked for a second flash operation before the first was over');
    if (this.lampOn) {
      this.#later(this.timeline.nowUs, (core, nowUs) => core.flashDone(0, nowUs));
      return;
    }
    this.#flashBusy = true;
    this.#later(this.timeline.nowUs + durationUs, (core, nowUs) => {
      this.#flashBusy = false;
      core.flashDone(Number(operate()), nowUs);
    });
  }

  /** An event for the core at `atUs`, unless it stops or starts anew before. */
  #later(atUs: number, event: (core: Core, nowUs: bigint) => void): () => void {
    const run = this.#run;
    return this.timeline.at(atUs, () => {
      if (run === this.#run) this.#tell(event);
    });
  }
}

function bytesOfHex(digits: string): number[] {
  return (digits.match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16));
}

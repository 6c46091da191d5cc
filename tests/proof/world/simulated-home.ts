import { Flash } from '../../../host/board/sim/flash.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import type { Timeline } from '../../../host/board/sim/timeline.js';
import type { Random } from '../../setup/random.js';
import { UartLine } from './uart-line.js';
import type { BitDone, BoardKind, Onlooker, WorldBoard } from './world-board.js';
import type { LineSetup, WorldLine } from './world-line.js';

/** From the board's leaving to the new firmware's start. */
const UPDATE_US = 400_000;
/** At 115 200 baud. */
const USUAL_BYTE_US = 87;

/** @param module another build of the core, for instance one with a guard taken out. */
export function simulatedBoards(module?: WebAssembly.Module): BoardKind {
  return { name: 'simulated', make: (timeline, id) => new SimulatedInWorld(timeline, id, module) };
}

class SimulatedInWorld implements WorldBoard {
  readonly home: SimulatedBoard;
  readonly pulseErrorMs = 0;
  readonly complaints: string[] = [];
  #breakingOff = () => {};

  constructor(timeline: Timeline, id: string, module: WebAssembly.Module | undefined) {
    this.home = new SimulatedBoard({ flash: new Flash(), timeline, boardId: id, ...(module && { module }) });
  }

  get id(): string {
    return this.home.id;
  }

  watch(onlooker: Onlooker): void {
    this.home.on('lamp', (edge) => onlooker.lamp(edge));
    this.home.on('started', (cause, detail) => {
      onlooker.started();
      if (cause === 'trap') this.complaints.push(`the core trapped (${detail})`);
    });
    this.home.on('left', () => {
      const { timeline } = this.home;
      timeline.at(timeline.nowUs + UPDATE_US, () => {
        this.home.startNewFirmware();
        onlooker.updated();
      });
    });
    this.#breakingOff = () => onlooker.breakingOff();
  }

  lineTo(timeline: Timeline, random: Random, setup: LineSetup): WorldLine {
    return new UartLine(this.home, timeline, random, USUAL_BYTE_US, setup);
  }

  pushReset(): void {
    this.#breakingOff();
    this.home.reset('reset-pin');
  }

  hang(): void {
    this.#breakingOff();
    this.home.reset('watchdog');
  }

  cutPower(): void {
    this.#breakingOff();
    this.home.cutPower();
  }

  cutPowerInsideFlash(operations: number, _howFar: number, bitDone: BitDone): void {
    this.home.flash.cutPowerAfter(operations, bitDone);
  }

  restorePower(): void {
    this.home.flash.restorePower();
    this.home.restorePower();
  }

  wearOut(sector: number): void {
    this.home.flash.wearOut(sector);
  }

  close(): void {
    this.home.close();
  }
}

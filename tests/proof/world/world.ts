import { Timeline } from '../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../host/board/sim/virtual-time.js';
import type { Archive, ArchivedRecord } from '../../../host/records/archive/archive.js';
import { limits } from '../../../shared-protocol/limits.js';
import { listOf } from '../../setup/list-of.js';
import { Random } from '../../setup/random.js';
import { type Climate, drawClimate, type FaultKind } from './faults.js';
import { dateFaults, isTellable, offsetsByHandMs, roundFaults, type WorkSpan } from './judge-dates.js';
import { LaptopAtWork, type Work } from './laptop-at-work.js';
import { LaptopClock } from './laptop-clock.js';
import { PrinterAtWork } from './printer-at-work.js';
import { RecipeFile } from './recipe-file.js';
import { RecipeShelf } from './recipe-shelf.js';
import { RottingArchive } from './rotting-archive.js';
import { Witness } from './witness.js';
import { type ArchivePlace, type ArchiveShelf, DiskOfProgram, openPlace } from './world-archive.js';
import type { BoardKind, WorldBoard } from './world-board.js';
import type { WorldLine } from './world-line.js';

const EVENING_MS = Date.UTC(2027, 2, 5, 20, 0, 0);
const WORLD_MS = 6_000;
/** From the board's question to the hand at its knob, and how far that turns. */
const HAND_MS = 200;
const CLICKS = 3;
const DISK_FULL_MS = 2_000;
const OFF_MS = 700;
const HOLDS_TO_REST = 5;
const PULLS_IN_THE_END = 2;
/** An emulated board's clock never runs out of things to do, so that waiting for nothing has to end some time. */
const SETTLE_LIMIT_MS = 300_000;

export interface WorldReport {
  readonly seed: number;
  readonly violations: readonly string[];
  readonly faults: Readonly<Partial<Record<FaultKind, number>>>;
  readonly accidents: Readonly<Record<string, number>>;
  readonly work: Work;
  /** Archives that rotted, those of them that were refused in words, and entries that rotted unnoticed. */
  readonly rot: { readonly rotted: number; readonly refused: number; readonly entries: number };
  readonly entries: number;
  readonly exposures: Readonly<Record<string, number>>;
  readonly pulses: number;
}

/** What to type to see the same world again. */
export function replayCommand(seed: number, kind: BoardKind['name']): string {
  return `npm run soak -- --world ${seed} --board ${kind}`;
}

/**
 * One evening of a laptop, a wire, a board and a disk under one clock, with accidents: everything in it follows from
 * `seed`. Then all is made well again, the log is pulled to its end, and the witness judges.
 */
export async function runWorld(seed: number, archives: ArchiveShelf, kind: BoardKind): Promise<WorldReport> {
  return new World(seed, await archives.open(), archives.ownFile(), kind).run();
}

class World {
  readonly #seed: number;
  readonly #random: Random;
  readonly #climate: Climate;
  readonly #timeline = new Timeline();
  readonly #clock = timelineClock(this.#timeline, EVENING_MS);
  readonly #laptopClock = new LaptopClock(this.#clock);
  readonly #spans: { fromMs: number; untilMs: number }[] = [];
  readonly #place: ArchivePlace;
  readonly #rotting: RottingArchive | undefined;
  readonly #board: WorldBoard;
  readonly #kind: BoardKind['name'];
  readonly #line: WorldLine;
  readonly #shelf: RecipeShelf;
  readonly #recipeFile: RecipeFile;
  readonly #witness: Witness;
  readonly #printer: PrinterAtWork;
  readonly #faults: Partial<Record<FaultKind, number>> = {};
  readonly #halfOfTheBits = () => this.#random.chance(0.5);
  readonly #work: Work = { done: 0, failed: 0, refused: 0, updated: 0 };
  #laptop: LaptopAtWork | undefined;
  /** That the disk takes; undefined while there is room. */
  #pagesLeft: number | undefined;
  /** While somebody is at work, accidents happen. */
  #over = true;
  /** In the archive in the end. */
  #entries = 0;

  constructor(seed: number, archive: Archive, ownFile: string, kind: BoardKind) {
    this.#seed = seed;
    this.#random = new Random(seed);
    this.#climate = drawClimate(this.#random, kind.name);
    if (this.#climate.kinds.includes('archive rots'))
      this.#rotting = new RottingArchive(ownFile, this.#random, this.#laptopClock);
    this.#place = this.#rotting ?? openPlace(archive);
    this.#kind = kind.name;
    this.#board = kind.make(this.#timeline, seed.toString(16).padStart(16, '0'));
    this.#printer = new PrinterAtWork(
      this.#timeline,
      this.#random,
      this.#board.home,
      this.#climate.knobShare,
    );
    this.#witness = new Witness(this.#board, () => this.#printer.touchedUs);
    this.#line = this.#board.lineTo(this.#timeline, this.#random, {
      climate: this.#climate,
      hear: this.#witness.hear,
      beginsAnew: this.#witness.forgetPart,
    });
    const isFull = () => this.#pagesLeft !== undefined;
    this.#recipeFile = new RecipeFile(`${ownFile}.json`, this.#random, isFull);
    this.#shelf = new RecipeShelf(this.#random);
  }

  async run(): Promise<WorldReport> {
    try {
      for (const restMs of this.#restsMs) await this.#restAndWork(restMs);
      await inVirtualTime(this.#timeline, this.#collectAndJudge(), SETTLE_LIMIT_MS);
    } catch (error) {
      this.#witness.faults.push(error instanceof Error ? `${error.stack}` : String(error));
    } finally {
      this.#board.close();
    }
    return this.#report();
  }

  /** An emulated chip has no rest that takes less than the time it lasts. */
  get #restsMs(): readonly number[] {
    return this.#kind === 'simulated' ? this.#climate.restsMs : [0];
  }

  async #restAndWork(restMs: number): Promise<void> {
    if (restMs > 0) await this.#pass(restMs);
    const fromMs = this.#clock.epochMs();
    this.#over = false;
    this.#printer.start();
    this.#startProgram();
    this.#nextFault();
    await this.#pass(WORLD_MS / this.#restsMs.length);
    this.#makeWell();
    await inVirtualTime(this.#timeline, this.#settle(), SETTLE_LIMIT_MS);
    this.#spans.push({ fromMs, untilMs: this.#clock.epochMs() });
  }

  #pass(ms: number): Promise<void> {
    return inVirtualTime(this.#timeline, this.#clockPause(ms), 2 * ms);
  }

  #startProgram(): void {
    this.#laptop = new LaptopAtWork({
      clock: this.#laptopClock,
      random: this.#random,
      open: (options) => this.#line.open(options),
      disk: new DiskOfProgram(this.#place, () => this.#pagesLeft),
      shelf: this.#shelf,
      recipeFile: this.#recipeFile,
      work: this.#work,
      // The emulated chip has no boot program to leave for.
      ...(this.#kind === 'simulated' && { allow: this.#allowNewFirmware }),
      prepares: this.#climate.prepared,
    });
  }

  readonly #allowNewFirmware = () => void this.#clock.after(HAND_MS, () => this.#board.home.knobTurn(CLICKS));

  #endProgram(): void {
    this.#laptop?.kill();
    if (this.#laptop?.blunder !== undefined) throw this.#laptop.blunder;
    this.#line.programEnds();
  }

  #nextFault(): void {
    const { kinds, faultEveryMs } = this.#climate;
    if (kinds.length === 0) return;
    this.#clock.after(1 + this.#random.below(2 * faultEveryMs), () => {
      if (this.#over) return;
      const kind = this.#random.pick(kinds);
      this.#faults[kind] = (this.#faults[kind] ?? 0) + 1;
      if (!this.#line.strike(kind)) this.#strike(kind);
      this.#nextFault();
    });
  }

  #strike(kind: FaultKind): void {
    switch (kind) {
      case 'power cut':
        this.#board.cutPower(this.#halfOfTheBits);
        this.#backAfter(OFF_MS);
        break;
      case 'power cut inside a flash operation':
        this.#board.cutPowerInsideFlash(this.#random.below(4), this.#random.share(), this.#halfOfTheBits);
        this.#backAfter(OFF_MS * 3);
        break;
      case 'board reset':
        if (this.#random.chance(0.5)) this.#board.pushReset();
        else this.#board.hang();
        break;
      case 'program killed':
        this.#endProgram();
        this.#startProgram();
        break;
      case 'disk full':
        this.#pagesLeft = this.#random.below(3);
        this.#clock.after(DISK_FULL_MS, () => {
          this.#pagesLeft = undefined;
        });
        break;
      case 'sector worn out':
        this.#witness.sectorsWorn = true;
        this.#board.wearOut(this.#random.below(limits.storageBytes / limits.sectorBytes));
        break;
      case 'laptop clock set':
        this.#laptopClock.jump(this.#random);
        break;
      case 'archive rots':
        this.#rotting?.rot().catch((error) => this.#witness.faults.push(`${error.stack}`));
        break;
    }
  }

  #backAfter(ms: number): void {
    this.#clock.after(ms, () => this.#board.restorePower());
  }

  #makeWell(): void {
    this.#over = true;
    this.#printer.stop();
    this.#endProgram();
    this.#line.makeWell();
    this.#pagesLeft = undefined;
    this.#board.restorePower();
  }

  async #settle(): Promise<void> {
    await this.#clockPause(1_000);
    // From whatever the printer left: holding the pedal leads to rest, and what was open is logged.
    for (let holds = 0; holds < HOLDS_TO_REST && !this.#atRest; holds++) {
      this.#printer.touchedUs = this.#timeline.nowUs;
      this.#board.home.pedal(true);
      await this.#clockPause(900);
      this.#board.home.pedal(false);
      await this.#clockPause(1_000);
    }
    if (!this.#atRest)
      throw new Error(`holding did not lead to rest, the panel says ${this.#board.home.panel[0]}`);
  }

  async #collectAndJudge(): Promise<void> {
    const spanMs = { fromMs: this.#clock.epochMs() };
    const board = await this.#line.open({ clock: this.#laptopClock });
    const disk = new DiskOfProgram(this.#place, () => undefined);
    await disk.collect(board).catch((error) => this.#rotting?.retryAfter(error) ?? Promise.reject(error));
    for (let pulls = 0; pulls < PULLS_IN_THE_END; pulls++) await disk.collect(board);
    const recipeFault = await this.#shelf.fault(board, this.#climate.knobShare > 0);
    if (recipeFault !== undefined && !this.#witness.sectorsWorn) this.#witness.faults.push(recipeFault);
    const archived = await this.#place.use((archive) => listOf(archive.records({ board: board.id })));
    this.#entries = archived.length;
    if (this.#recipeFile.fault !== undefined) this.#witness.faults.push(this.#recipeFile.fault);
    this.#witness.rotten = this.#rotting?.rotten ?? new Set();
    this.#witness.judge(archived, board.welcome.boot);
    this.#judgeDates(archived, [...this.#spans, { ...spanMs, untilMs: this.#clock.epochMs() }]);
    await board.close();
  }

  #judgeDates(archived: readonly ArchivedRecord[], spans: readonly WorkSpan[]): void {
    const startMs = (boot: number) => {
      const startUs = this.#witness.startUs(boot);
      return startUs === undefined ? undefined : EVENING_MS + startUs / 1000;
    };
    const times = { startMs, offsetsMs: this.#laptopClock.offsetsMs };
    if (this.#witness.rotten.size > 0) return;
    this.#witness.faults.push(...dateFaults(archived, times));
    const wasAlwaysRight =
      this.#laptopClock.offsetsMs.size === 1 && offsetsByHandMs(archived, times).length === 0;
    if (wasAlwaysRight && this.#restsMs.every(isTellable))
      this.#witness.faults.push(...roundFaults(archived, spans, times));
  }

  get #atRest(): boolean {
    const { lampOn, panel } = this.#board.home;
    return !lampOn && /Hold:? focus/.test(panel[0] ?? '');
  }

  #clockPause(ms: number): Promise<void> {
    return new Promise((resolve) => void this.#clock.after(ms, resolve));
  }

  #report(): WorldReport {
    return {
      seed: this.#seed,
      violations: this.#witness.faults,
      faults: this.#faults,
      accidents: this.#line.accidents,
      work: { ...this.#work, updated: this.#witness.updates },
      rot: {
        rotted: this.#rotting?.rotted ?? 0,
        refused: this.#rotting?.refused ?? 0,
        entries: this.#witness.rotten.size,
      },
      entries: this.#entries,
      exposures: this.#witness.exposures,
      pulses: this.#witness.pulses,
    };
  }
}

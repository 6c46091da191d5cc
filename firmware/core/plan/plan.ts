/**
 * A plan is exactly what the evening carries out: passes (each waits for the pedal) made of pieces, one after
 * another. Pieces from one that stops the lamp first up to the next such one are a single pulse of the lamp.
 * Plans are bounded, live in static memory and are written by the files beside this one only.
 */
import { ExposureKind, RECIPE_DODGES, RECIPE_PASSES, STRIP_PATCHES } from '../generated/constants';

/** A whole recipe, one pass of it in as many variants as a strip has patches. */
export const PLAN_PASSES: i32 = RECIPE_PASSES + STRIP_PATCHES - 1;
/** Every dodge, and in every pass the open rest. */
const PIECE_LIMIT: i32 = RECIPE_DODGES + PLAN_PASSES;

/** Why a plan was refused; the figures beside it are in the plan. */
export enum PlanCode {
  Ok = 0,
  /** The base, or a strip's first time, is not 1 ms .. 1 h. */
  BaseOutOfRange = 1,
  /** An offset beyond 10 stops, a burn or a dodge that is not above zero, a step of nothing. */
  StopsOutOfRange = 2,
  /** A dose above 1 h: `allowedMs`. */
  TooLong = 3,
  /** A piece of `neededMs` is shorter than the `allowedMs` that the lamp can be depended on for. */
  BelowLamp = 4,
  /** The dodges need `neededMs`, their pass has `allowedMs`. */
  DodgesTooLong = 5,
  /** More passes, dodges or patches than a plan holds, or fewer than it needs. */
  CountOutOfRange = 6,
}

export enum PieceKind {
  Open = 0,
  Dodge = 1,
}

/** Set in `flags` where the lamp stops, and the pedal is awaited, before the piece. */
export const STOPS_FIRST: u8 = 1;
/** Set where the rest of a pass was too short for a pulse of its own and runs on from the last dodge. */
export const JOINED: u8 = 2;
/** Set where a pulse ended within the piece, so that the glow after that pulse was counted as its light. */
export const BEGUN: u8 = 4;

@unmanaged
export class Piece {
  kind: u8;
  flags: u8;
  pass: u8;
  /** Which dodge of the pass, from 0; of an open piece, how many dodges came before. */
  dodge: u8;
  /** As planned; never changes while the plan is carried out. */
  doseMs: i32;
  /** What is still to be given. */
  restUs: u32;
  /** The relay's time for what is still to be given, the lamp's lag and rise made up for. */
  onUs: u32;
}

@unmanaged
export class PlannedPass {
  /** An ExposureKind: base, burn, strip or a test. */
  kind: u8;
  firstPiece: u8;
  pieceCount: u8;
  dodgeCount: u8;
  /** The patch or variant from which on it is given, from 1; 0 where there are none. */
  patch: u8;
  /** The pass of the recipe that it comes from, from 0. */
  recipePass: u8;
  /** It is given so many times, one after another by itself; then it has one piece, which is one of them. */
  pulses: u8;
  /** Of all pulses together. */
  doseMs: i32;
}

@unmanaged
export class Plan {
  passCount: i32;
  pieceCount: i32;
  /** Of a recipe: the base after dry-down, to which every offset refers. */
  baseMs: i32;
  /** Whether each dodge stops the lamp first, so that the hand can be placed. */
  dodgesStop: bool;
  code: PlanCode;
  /** Where a refused plan failed (from 0; -1 for not in one), and the figures. */
  failedPass: i32;
  failedDodge: i32;
  neededMs: i32;
  allowedMs: i32;
  passLimit: i32;

  /** `index` from 0 to passCount - 1. */
  pass(index: i32): PlannedPass {
    return changetype<PlannedPass>(
      changetype<usize>(this) + PASSES_AT + <usize>index * offsetof<PlannedPass>(),
    );
  }

  /** `index` from 0 to pieceCount - 1. */
  piece(index: i32): Piece {
    return changetype<Piece>(changetype<usize>(this) + PIECES_AT + <usize>index * offsetof<Piece>());
  }

  /** Tells plans of different light apart. */
  sum(): u32 {
    let sum = u32(this.passCount);
    for (let index = 0; index < this.pieceCount; index++) sum = sum * 31 + u32(this.piece(index).doseMs);
    return sum;
  }

  /** Empties the plan. */
  begin(dodgesStop: bool): void {
    memory.fill(changetype<usize>(this), 0, PLAN_BYTES);
    this.dodgesStop = dodgesStop;
    this.failedPass = -1;
    this.failedDodge = -1;
    this.passLimit = RECIPE_PASSES;
  }

  /** Notes the first thing that is wrong; a later one is not heard. */
  refuse(code: PlanCode, pass: i32, dodge: i32, neededMs: i32, allowedMs: i32): PlanCode {
    if (this.code != PlanCode.Ok) return this.code;
    this.code = code;
    this.failedPass = pass;
    this.failedDodge = dodge;
    this.neededMs = neededMs;
    this.allowedMs = allowedMs;
    return code;
  }

  /** Room for one more pass of the kind, which must be there: false if not. */
  addPass(kind: ExposureKind, doseMs: i32): bool {
    if (this.passCount == this.passLimit) return false;
    const pass = this.pass(this.passCount);
    pass.kind = <u8>kind;
    pass.firstPiece = <u8>this.pieceCount;
    pass.doseMs = doseMs;
    pass.pulses = 1;
    this.passCount += 1;
    return true;
  }

  /** One more piece of the last pass: there is room for every dodge of a recipe, and in every pass for one more. */
  addPiece(kind: PieceKind, flags: u8, doseMs: i32): void {
    const pass = this.pass(this.passCount - 1);
    const piece = this.piece(this.pieceCount);
    piece.kind = <u8>kind;
    piece.flags = flags;
    piece.pass = <u8>(this.passCount - 1);
    piece.dodge = pass.dodgeCount;
    piece.doseMs = doseMs;
    piece.restUs = <u32>doseMs * 1000;
    if (kind == PieceKind.Dodge) pass.dodgeCount += 1;
    pass.pieceCount += 1;
    this.pieceCount += 1;
  }
}

const PASSES_AT: usize = offsetof<Plan>();
const PIECES_AT: usize = PASSES_AT + <usize>PLAN_PASSES * offsetof<PlannedPass>();
export const PLAN_BYTES: usize = PIECES_AT + <usize>PIECE_LIMIT * offsetof<Piece>();

/** The plan being carried out or about to be. */
export const eveningPlan = changetype<Plan>(memory.data(<i32>PLAN_BYTES, 8));
/** What is still to be given of a sheet that was left. */
export const leftPlan = changetype<Plan>(memory.data(<i32>PLAN_BYTES, 8));
/** For asking whether something would do, while the other is carried out. */
export const trialPlan = changetype<Plan>(memory.data(<i32>PLAN_BYTES, 8));

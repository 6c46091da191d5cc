/** A pass before and while it is given: its seconds, what the hand has to do, and which of how many it is. */
import { pieceNow } from '../evening/announce';
import { Figure, figure, spread } from '../evening/figure';
import { passFilter, passLabel, pieceLabel } from '../evening/labels';
import { Lit, lit, litSinceUs } from '../evening/lamp-control';
import { passIndex, pieceEndsUs, pulseNumber } from '../evening/pass';
import { situation } from '../evening/situation';
import { testLagMs } from '../evening/tests-on-paper';
import { Cover, ExposureKind, Job, RunState } from '../generated/constants';
import { LAMP_TEST_PATCHES } from '../plan/lamp-test-plan';
import { eveningPlan, Segment, SegmentKind } from '../plan/plan';
import { GREY_BEFORE } from '../plan/safelight-plan';
import { patchMs } from '../plan/strip-plan';
import { ascii } from '../protocol/texts';
import { drawFigure } from './figure-rows';
import { putCountdown, putOf, putSeconds } from './figures';
import { alignRight, beginRow, columnsLeft, columnsOf, put, putByte, putNumber, putText } from './row';

export function drawPass(): void {
  if (figure != Figure.None) {
    drawFigure();
    return;
  }
  const piece = pieceNow();
  const segment = eveningPlan.segment(piece);
  beginRow(1);
  if (isPulsing()) drawPulses(segment);
  else if (lit == Lit.Paper) putCountdown(litSinceUs + pieceEndsUs - situation.toldUs);
  else putSeconds(i32((segment.restUs + 500) / 1000));
  drawFilter();
  switch (<ExposureKind>eveningPlan.pass(passIndex).kind) {
    case ExposureKind.Strip:
      drawPatch();
      return;
    case ExposureKind.Bracket:
      drawVersion();
      return;
    case ExposureKind.LampTest:
      drawLampPatch();
      return;
    case ExposureKind.Safelight:
      drawGrey();
      return;
    default:
      drawPiece(piece, segment);
  }
}

function isPulsing(): bool {
  return eveningPlan.pass(passIndex).pulses > 1;
}

/** Before the first pulse how many and how long, then which one. */
function drawPulses(segment: Segment): void {
  const pulses = i32(eveningPlan.pass(passIndex).pulses);
  if (situation.state == RunState.Ready) {
    putNumber(pulses);
    put(ascii(' x '));
    putSeconds(segment.doseMs);
    return;
  }
  put(ascii('Pulse '));
  putOf(pulseNumber, pulses);
}

/** Of the word, and the space behind it. */
const FILTER_COLUMNS: i32 = 7;

/** At the right edge, with the word where there is room for it. */
function drawFilter(): void {
  const filter = passFilter(passIndex);
  if (load<u8>(filter) == 0) return;
  putByte(0x20);
  const from = columnsLeft();
  if (columnsOf(filter) + FILTER_COLUMNS <= from) put(ascii('filter '));
  putText(filter);
  alignRight(from);
}

function drawPatch(): void {
  drawCard();
  put(ascii('Patch '));
  putOf(passIndex + 1, eveningPlan.passCount);
  put(ascii(' '));
  putSeconds(patchMs(spread().firstMs, spread().stepStops120, spread().stepMs, passIndex));
}

function drawVersion(): void {
  drawCard();
  putOf(eveningPlan.pass(passIndex).patch, spread().patches);
  putByte(0x20);
  putText(passLabel(passIndex));
}

/** What to do with the card, in row 2; row 3 is next. */
function drawCard(): void {
  beginRow(2);
  if (spread().cover == Cover.Separate) put(ascii('Bare this patch only'));
  else if (eveningPlan.pass(passIndex).patch == 1) drawBareAll();
  else put(ascii('Cover one more patch'));
  beginRow(3);
}

function drawBareAll(): void {
  put(situation.job == Job.Bracket ? ascii('Bare the whole sheet') : ascii('Bare the whole strip'));
}

function drawLampPatch(): void {
  const patch = i32(eveningPlan.pass(passIndex).patch);
  beginRow(2);
  put(patch == 0 ? ascii('Bare one long half') : ascii('Then one patch alone'));
  beginRow(3);
  if (patch == 0) {
    put(ascii('To compare with'));
    return;
  }
  put(ascii('Patch '));
  putOf(patch, LAMP_TEST_PATCHES);
  putByte(0x20);
  putNumber(testLagMs(patch - 1));
  put(ascii(' ms'));
}

function drawGrey(): void {
  const isBefore = eveningPlan.pass(passIndex).patch == GREY_BEFORE;
  beginRow(2);
  put(isBefore ? ascii('Bare the left half') : ascii('Bare the right half'));
  beginRow(3);
  put(isBefore ? ascii('Grey before fogging') : ascii('Grey after fogging'));
}

function drawPiece(piece: i32, segment: Segment): void {
  beginRow(2);
  putText(pieceLabel(piece));
  beginRow(3);
  if (segment.kind == SegmentKind.Dodge) {
    put(ascii('Dodge '));
    putOf(segment.dodge + 1, eveningPlan.pass(passIndex).dodgeCount);
    put(ascii(' pass '));
    putNumber(passIndex + 1);
    return;
  }
  put(eveningPlan.pass(passIndex).kind == ExposureKind.Burn ? ascii('Burn, pass ') : ascii('Base, pass '));
  putOf(passIndex + 1, eveningPlan.passCount);
}

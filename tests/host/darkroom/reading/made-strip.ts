import { type LampBehaviour, LampTrace, lampFromLagAndRise } from '../../../../host/darkroom/light/lamp.js';
import { boathouseNegative } from '../../../../host/darkroom/negative/demo-negative.js';
import { logTransmittanceAt, type Negative } from '../../../../host/darkroom/negative/negative.js';
import { Paper } from '../../../../host/darkroom/paper/paper.js';
import type { Random } from '../../../setup/random.js';
import { foreignCurve } from './foreign-curve.js';
import { normal } from './normal.js';
import { type Device, type Scanner, seenBy, type Trouble } from './scanner-model.js';

/** A strip of the virtual darkroom, of which all is known, and the picture that a scanner or a phone made of it. */
export interface MadeStrip {
  readonly width: number;
  readonly height: number;
  /** Eight-bit codes of sRGB. */
  readonly codes: Uint8Array;
  /** By the plan; what the patches really had is a little off. */
  readonly dosesMs: readonly number[];
  readonly baseMs: number;
  readonly rangeR: number;
  readonly edgesPx: readonly number[];
}

export interface StripWishes {
  readonly device: Device;
  readonly rangeR?: number;
  readonly trouble?: Trouble;
  readonly light?: 'flat' | 'picture';
  /** A curve that is not of the project's family, the paper's own by default. */
  readonly curve?: 'foreign';
  /** Of a strip that was given; any by default. */
  readonly dosesMs?: readonly number[];
  readonly size?: number;
  /** Of a paper that other strips are of, too, through one of its filters under a light of so many lux. */
  readonly of?: { readonly paper: Paper; readonly filter: string; readonly lux: number };
  /** The one that other strips are scanned by, too. */
  readonly scanner?: Scanner;
  /** By default the board, which makes up for the lamp's start; a plain one does not, and its base is that of a print by it. */
  readonly timer?: 'plain';
}

const BASE_DENSITY = 0.05;

/** Layout, paper, lamp and hands follow from the seed of `random`. */
export function madeStrip(
  random: Random,
  { device, light = 'flat', size = 400, ...wishes }: StripWishes,
): MadeStrip {
  const { of, scanner } = wishes;
  const filter = of?.filter ?? '';
  const known = of?.paper.figures.filters[filter]?.rangeR ?? wishes.rangeR;
  const rangeR = known ?? 50 + 130 * random.share();
  const patches = wishes.dosesMs?.length ?? random.between(5, 8);
  const anyStepStops = rangeR > 120 ? random.pick([0.5, 0.75, 1]) : random.pick([1 / 3, 0.5, 0.5, 0.75]);
  const anyFirstMs = wishes.dosesMs?.[0] ?? random.between(2000, 8000);
  const stepStops =
    wishes.dosesMs === undefined ? anyStepStops : Math.log2(wishes.dosesMs[1]! / wishes.dosesMs[0]!);
  const atPatch = baseAt(random, patches, wishes.trouble);
  const paper = of?.paper ?? paperOf(random, rangeR);
  const logSpeed = speedPoint(paper, filter);
  const baseMs =
    of === undefined ? anyFirstMs * 2 ** (atPatch * stepStops) : (1000 * 10 ** logSpeed) / of.lux;
  const firstMs = baseMs / 2 ** (atPatch * stepStops);
  const dosesMs =
    wishes.dosesMs ?? Array.from({ length: patches }, (_, at) => Math.round(firstMs * 2 ** (at * stepStops)));
  const foreign = wishes.curve === 'foreign' ? foreignCurve(random, rangeR) : undefined;
  const densityFor =
    foreign ?? ((logFromBase: number) => paper.densityAt(filter, logSpeed + logFromBase) - BASE_DENSITY);
  const lamp = lampFromLagAndRise(random.between(0, 120), random.between(0, 80));
  const lostMs = lostMsBy(lamp);
  const given = givenMs(random, lamp, dosesMs, wishes.timer === 'plain' ? 0 : lostMs);
  if (wishes.trouble === 'patch missing') given.splice(2, 1);
  const densities = given.map(
    (doseMs) => (negativeLog: number) => densityFor(Math.log10(doseMs / baseMs) + negativeLog),
  );
  const layout = layoutOf(random, given.length, size);
  const negative = light === 'picture' ? boathouseNegative(120) : undefined;
  const sheet = sheetOf(layout, densities, negative, wishes.trouble);
  const codes = seenBy(random, device, { ...layout, density: sheet }, wishes.trouble, scanner);
  return { ...layout, codes, dosesMs, baseMs: wishes.timer === 'plain' ? baseMs + lostMs : baseMs, rangeR };
}

/** Of patches from the first: inside the strip, or far off it. */
function baseAt(random: Random, patches: number, trouble: Trouble | undefined): number {
  if (trouble === 'too light') return patches + 1 + random.share();
  if (trouble === 'too dark') return -2 - random.share();
  return 0.7 + (patches - 2.4) * random.share();
}

/** Graded paper, or one with a hard and a soft emulsion whose curve has another shape. */
function paperOf(random: Random, rangeR: number): Paper {
  const maximumDensity = 2 + 0.2 * random.share();
  const own = { speedP: 200, rangeR };
  const filters = random.chance(0.5)
    ? { '': own }
    : { '': own, hard: { speedP: 200, rangeR: Math.max(45, rangeR - 30) } };
  return new Paper({ name: 'made up', baseDensity: BASE_DENSITY, maximumDensity, filters });
}

/** log10 of the lux seconds for 0.60 above base: Hm = 1000 / P (ISO 6846, from memory). */
function speedPoint(paper: Paper, filter: string): number {
  return Math.log10(1000 / paper.figures.filters[filter]!.speedP);
}

/**
 * What a lamp that comes up slowly gave over the exposures of the strip, and hands that moved the card early or late.
 * @param madeUpMs by which each light is longer; what is left of the lamp's start is its calibration's error.
 */
function givenMs(
  random: Random,
  lamp: LampBehaviour,
  dosesMs: readonly number[],
  madeUpMs: number,
): number[] {
  const lagMs = random.between(-15, 15);
  let all = 0;
  return dosesMs.map((doseMs, at) => {
    const onMs = doseMs - (dosesMs[at - 1] ?? 0) + lagMs;
    all += lightMsOf(lamp, onMs) + madeUpMs;
    return all * 2 ** (0.012 * normal(random));
  });
}

function lostMsBy(lamp: LampBehaviour): number {
  return 60_000 - lightMsOf(lamp, 60_000);
}

function lightMsOf(lamp: LampBehaviour, onMs: number): number {
  const trace = new LampTrace(lamp, [
    { atUs: 0, on: true },
    { atUs: onMs * 1000, on: false },
  ]);
  return trace.lightMs(0, Number.POSITIVE_INFINITY);
}

interface Layout {
  readonly width: number;
  readonly height: number;
  readonly edgesPx: readonly number[];
  readonly border: number;
  readonly tilt: number;
  readonly blurPx: number;
}

function layoutOf(random: Random, patches: number, size: number): Layout {
  const [width, height] = [size, Math.round(size * (0.5 + 0.2 * random.share()))];
  const border = Math.round(size * (0.03 + 0.04 * random.share()));
  const inner = width - 2 * border;
  const edgesPx = Array.from({ length: patches + 1 }, (_, at) => {
    const uneven = at === 0 || at === patches ? 0 : 0.16 * (random.share() - 0.5);
    return border + (inner * (at + uneven)) / patches;
  });
  const tilt = Math.tan((((random.share() - 0.5) * 1.8) / 180) * Math.PI);
  return { width, height, edgesPx, border, tilt, blurPx: 0.7 + 2.5 * random.share() };
}

type ToneOf = (negativeLog: number) => number;

/** Density above white of every pixel of the frame: border, patches, the soft shadow of the card between them. */
function sheetOf(
  { width, height, edgesPx, border, tilt, blurPx }: Layout,
  tones: readonly ToneOf[],
  negative: Negative | undefined,
  trouble: Trouble | undefined,
): Float32Array {
  const density = new Float32Array(width * height);
  if (trouble === 'nothing on it') return density;
  const flat = tones.map((tone) => tone(0));
  for (let y = border; y < height - border; y++)
    for (let x = border; x < width - border; x++) {
      const along = x - tilt * (y - height / 2);
      const inside = edgesPx.slice(1, -1);
      let at = inside.findIndex((edge) => along < edge);
      if (at < 0) at = tones.length - 1;
      const place = [
        (100 * (x - border)) / (width - 2 * border),
        (100 * (y - border)) / (height - 2 * border),
      ] as const;
      const log = negative === undefined ? 0 : logTransmittanceAt(negative, ...place) + 0.75;
      if (trouble === 'a print, no strip')
        density[y * width + x] = tones[2]!(logTransmittanceAt(boathouse, ...place) + 0.75);
      else
        density[y * width + x] =
          negative === undefined ? softened(flat, inside, along, at, blurPx) : tones[at]!(log);
    }
  return density;
}
const boathouse = boathouseNegative(120);

function softened(
  tones: readonly number[],
  inside: readonly number[],
  along: number,
  at: number,
  blurPx: number,
): number {
  const nearest = at > 0 && along - inside[at - 1]! < 4 * blurPx ? at - 1 : at < inside.length ? at : -1;
  if (nearest < 0) return tones[at]!;
  const share = 1 / (1 + Math.exp(-(along - inside[nearest]!) / (0.4 * blurPx)));
  return tones[nearest]! + (tones[nearest + 1]! - tones[nearest]!) * share;
}

import { smoothStep } from '../sheet/cover.js';
import { mix, ValueNoise } from './value-noise.js';

/**
 * An invented view: the boathouse on Skelder Mere, late in the afternoon, somebody on the landing stage
 * facing away from the sun. Bright sky, dark slipway, a face in its own shadow: a negative that needs a
 * dodge and a burn. Nothing here is taken from a place or a picture.
 *
 * x runs from 0 to 1.5 (left to right), y from 0 to 1 (top to bottom); values are log10 luminance, where
 * 0 is the darkest thing in view and 2.2 a bright cloud.
 */
export const sceneAspect = 1.5;

const SHORE = 0.56;
const SUN_SIDE = 0.25;

/** Of each place how bright it is, or which share of what is behind it is hidden. */
type Field = (x: number, y: number) => number;
/** Something in front of what is behind it. */
type Layer = (behind: Field) => Field;

export function boathouseScene(seed: number): Field {
  const noise = new ValueNoise(seed);
  const above = painted(
    (x, y) => sky(noise, x, y),
    [
      inside([-0.1, 1.6, 0.3, 1], farHills(noise)),
      inside([-0.1, 1.6, 0.36, 1], [treeLine(noise)]),
      inside([0.82, 1.34, 0.2, 1], boathouse(noise)),
    ],
  );
  return painted(
    (x, y) => (y < SHORE ? above(x, y) : lake(noise, above, x, y)),
    [
      inside([0.28, 0.9, 0.59, 1], landingStage(noise)),
      inside([0.9, 1.38, 0.68, 0.86], rowingBoat(noise)),
      inside([0.47, 0.83, 0.44, 0.93], person(noise)),
      inside([1.15, 1.5, 0.7, 1], [reeds(noise)]),
    ],
  );
}

function painted(background: Field, layers: readonly Layer[]): Field {
  return layers.reduce((behind, layer) => layer(behind), background);
}

/** Only what is seen is worked out: nothing of a thing where it hides nothing, and nothing behind it where it hides all. */
function thing(cover: Field, tone: Field): Layer {
  return (behind) => (x, y) => {
    const share = cover(x, y);
    if (share === 0) return behind(x, y);
    return share === 1 ? tone(x, y) : mix(behind(x, y), tone(x, y), share);
  };
}

/** Spares the work of layers outside the box `[left, right, top, bottom]` that holds all of them. */
function inside(
  [left, right, top, bottom]: readonly [number, number, number, number],
  layers: readonly Layer[],
): Layer {
  return (behind) => {
    const all = painted(behind, layers);
    return (x, y) => (x < left || x > right || y < top || y > bottom ? behind(x, y) : all(x, y));
  };
}

/** Remembers the last, for what is the same all down a column. */
function ofColumn(value: (x: number) => number): (x: number) => number {
  let lastX = Number.NaN;
  let last = 0;
  return (x) => {
    if (x !== lastX) last = value(x);
    lastX = x;
    return last;
  };
}

function sky(noise: ValueNoise, x: number, y: number): number {
  const height = y / SHORE;
  const clear = mix(1.62, 1.95, height ** 1.5) + 0.12 * (1 - Math.min(1, Math.abs(x - SUN_SIDE)));
  const billow = noise.layered(x * 2.6 + 3, (y * 6.5) / (0.35 + 0.65 * (1 - height) + 0.25), 6);
  const cloud = smoothStep((billow + 0.12) / 0.42) * smoothStep(1.25 - height);
  if (cloud === 0) return clear;
  const shaded = noise.layered(x * 5 + 9, y * 13 + 0.9, 4);
  return mix(clear, 2.14 + 0.22 * shaded, cloud * 0.85);
}

/** Hides below a wavy skyline; `softness` is the width over which it comes in. */
function under(y: number, skyline: number, softness: number): number {
  return smoothStep((y - skyline) / softness + 0.5);
}

function farHills(noise: ValueNoise): Layer[] {
  const far = ofColumn((x) => SHORE - 0.15 - 0.075 * noise.layered(x * 1.6 + 40, 3, 4) + 0.05 * (x - 0.8));
  const near = ofColumn((x) => SHORE - 0.085 - 0.06 * noise.layered(x * 2.4 + 70, 8, 5) - 0.06 * (x - 0.6));
  return [
    thing(
      (x, y) => under(y, far(x), 0.004),
      (x, y) => 1.66 + 0.05 * noise.layered(x * 9, y * 14, 4),
    ),
    thing(
      (x, y) => under(y, near(x), 0.004),
      (x, y) => 1.38 + 0.1 * noise.layered(x * 16, y * 24, 4),
    ),
  ];
}

/** More than leaves stand out over the line of the crowns. */
const LEAVES_REACH = 0.01;

function treeLine(noise: ValueNoise): Layer {
  const skyline = ofColumn((x) => {
    const crowns = Math.abs(noise.layered(x * 11 + 5, 2, 5));
    return SHORE - 0.03 - 0.075 * crowns - 0.055 * smoothStep((x - 0.95) / 0.4);
  });
  const leaves: Field = (x, y) => noise.layered(x * 60, y * 60, 3);
  return thing(
    (x, y) => {
      const line = skyline(x);
      if (Math.abs(y - line) > LEAVES_REACH) return y < line ? 0 : 1;
      return under(y, line + 0.006 * leaves(x, y), 0.003);
    },
    (x, y) => 0.72 + 0.4 * leaves(x, y) + 0.9 * Math.max(0, skyline(x) + 0.03 - y),
  );
}

const HOUSE = { left: 0.86, right: 1.3, eaves: 0.375, foot: 0.565, ridge: 0.235, overhang: 0.028 } as const;

function boathouse(noise: ValueNoise): Layer[] {
  const middle = (HOUSE.left + HOUSE.right) / 2;
  const halfWidth = (HOUSE.right - HOUSE.left) / 2;
  const walls = (x: number, y: number) =>
    within(Math.abs(x - middle), halfWidth) * within(y, HOUSE.foot) * gable(x, y);
  const gable = (x: number, y: number) => under(y, roofLine(x), 0.003);
  const roofLine = (x: number) =>
    HOUSE.ridge + ((HOUSE.eaves - HOUSE.ridge) * Math.abs(x - middle)) / halfWidth;
  return [
    thing(walls, (x, y) => boards(noise, x, y) + opening(x, y, middle)),
    thing(
      (x, y) => roof(x, y, roofLine(x), middle),
      (x, y) => 0.62 + 0.16 * noise.layered(x * 50, y * 90, 3),
    ),
    thing(
      (x, y) => lamp(x, y, middle),
      () => 1.72,
    ),
  ];

  function roof(x: number, y: number, line: number, centre: number): number {
    const across = within(Math.abs(x - centre), halfWidth + HOUSE.overhang);
    return across * under(y, line - 0.024, 0.003) * (1 - under(y, line + 0.012, 0.003));
  }
}

/** Upright weathered boards with dark joints, lit from the left and paler towards the gable. */
function boards(noise: ValueNoise, x: number, y: number): number {
  const width = 0.0172;
  const board = Math.floor(x / width);
  const acrossShare = x / width - board;
  const joint = smoothStep(1 - Math.min(acrossShare, 1 - acrossShare) / 0.09);
  const grain = noise.layered(x * 420, y * 14 + board * 7.3, 4);
  const weathered = 1.2 + 0.28 * (noise.at(board, 77) - 0.5) + 0.16 * grain + 0.28 * (HOUSE.eaves + 0.06 - y);
  return mix(weathered, 0.45, joint * 0.85) + 0.12 * (1 - (x - HOUSE.left) / (HOUSE.right - HOUSE.left));
}

/** The boats' doorway over the slip, nearly black, and a window with a pane's glint. */
function opening(x: number, y: number, middle: number): number {
  const arch = 0.425 + 0.022 * ((x - middle) / 0.105) ** 2;
  const door = within(Math.abs(x - middle), 0.105) * under(y, arch, 0.003);
  const inside = -0.98 + 0.5 * smoothStep((y - 0.5) / 0.12);
  const paneX = Math.abs(x - middle);
  const pane =
    within(paneX, 0.032) *
    within(Math.abs(y - 0.345), 0.026) *
    (1 - within(paneX, 0.002)) *
    (1 - within(Math.abs(y - 0.345), 0.002));
  return door * inside + pane * (x < middle ? -0.62 : -0.75);
}

function lamp(x: number, y: number, middle: number): number {
  return 1 - smoothStep((Math.sqrt((x - middle) ** 2 + (y - 0.401) ** 2) - 0.0055) / 0.003);
}

function lake(noise: ValueNoise, above: (x: number, y: number) => number, x: number, y: number): number {
  const depth = (y - SHORE) / (1 - SHORE);
  const ripple = noise.layered((x * 7) / (0.25 + depth), 60 / (0.12 + depth), 4);
  const swell = noise.layered((x * 2.2) / (0.3 + depth), 22 / (0.15 + depth), 3);
  const mirroredY = SHORE - (y - SHORE) * 1.12 - (0.016 + 0.05 * depth) * (ripple + swell);
  const mirrored = above(x + (0.004 + 0.012 * depth) * ripple, Math.max(0, mirroredY));
  const water = mix(mirrored - 0.16, 1.08, 0.16 + 0.3 * depth) + 0.2 * ripple * (0.3 + depth);
  const path = Math.exp(-(((x - SUN_SIDE - 0.05) / (0.06 + 0.2 * depth)) ** 2));
  const glint = smoothStep((ripple + 0.55 * noise.smooth(x * 90, y * 240) - 0.28) / 0.25);
  return mix(water, 2.15, path * glint * 0.85);
}

const STAGE = {
  farY: 0.63,
  nearY: 1.02,
  farLeft: 0.78,
  farRight: 0.875,
  nearLeft: 0.3,
  nearRight: 0.72,
} as const;

/** A stage of planks that runs from the lower left of the middle towards the boathouse. */
function landingStage(noise: ValueNoise): Layer[] {
  const nearness = (y: number) => (y - STAGE.farY) / (STAGE.nearY - STAGE.farY);
  const left = (near: number) => mix(STAGE.farLeft, STAGE.nearLeft, near);
  const right = (near: number) => mix(STAGE.farRight, STAGE.nearRight, near);
  const deck: Field = (x, y) => {
    const near = nearness(y);
    return within(left(near), x) * within(x, right(near)) * under(y, STAGE.farY, 0.003);
  };
  const planks: Field = (x, y) => {
    const near = nearness(y);
    // Planks lie across and look narrower with distance.
    const plankRow = 15 / (0.32 + near);
    const plank = Math.floor(plankRow);
    const gapShare = plankRow - plank;
    const gap = smoothStep(1 - Math.min(gapShare, 1 - gapShare) / 0.1);
    const acrossShare = (x - left(near)) / (right(near) - left(near));
    const wood =
      1.42 +
      0.22 * (noise.at(plank, 5) - 0.5) +
      0.16 * noise.layered(acrossShare * 9 + plank * 3.7, plankRow * 6, 4);
    return mix(wood, 0.3, gap * 0.9);
  };
  return [
    thing(deck, planks),
    ...POSTS.map(([near, side]) => post(noise, side === 'left' ? left(near) : right(near), near)),
  ];
}

function post(noise: ValueNoise, footX: number, near: number): Layer {
  const footY = mix(STAGE.farY, STAGE.nearY, near);
  const size = 0.25 + near;
  return thing(
    (x, y) =>
      within(Math.abs(x - footX), 0.012 * size) *
      within(footY - 0.1 * size, y) *
      within(y, footY + 0.035 * size),
    (x, y) => 0.82 - 0.42 * ((x - footX) / (0.012 * size)) + 0.1 * noise.layered(x * 200, y * 30, 3),
  );
}

const POSTS = [
  [0.06, 'left'],
  [0.06, 'right'],
  [0.3, 'left'],
  [0.3, 'right'],
  [0.68, 'left'],
  [0.68, 'right'],
] as const;

/** A rowing boat drawn up beside the stage. */
function rowingBoat(noise: ValueNoise): Layer[] {
  const alongBoat = (x: number) => (x - 1.14) / 0.22;
  const sheerAt = (along: number) => 0.735 - 0.035 * along ** 2 - 0.01 * along;
  const keelAt = (along: number) => sheerAt(along) + 0.095 * (1 - along ** 4) + 0.01;
  const shade: Field = (x, y) => {
    const along = alongBoat(x);
    const keel = keelAt(along);
    return (
      within(Math.abs(along * 0.95), 1) *
      under(y, keel - 0.004, 0.004) *
      (1 - under(y, keel + 0.022, 0.02)) *
      0.8
    );
  };
  const hull: Field = (x, y) => {
    const along = alongBoat(x);
    return (
      within(Math.abs(along), 1) * under(y, sheerAt(along), 0.003) * (1 - under(y, keelAt(along), 0.004))
    );
  };
  const paint: Field = (x, y) => {
    const below = y - sheerAt(alongBoat(x));
    const strake = smoothStep(1 - Math.abs((below * 34) % 1) / 0.18);
    return 1.52 - 3.2 * below - 0.16 * strake + 0.08 * noise.layered(x * 40, y * 120, 3);
  };
  const inner: Field = (x, y) => {
    const along = alongBoat(x);
    const sheer = sheerAt(along);
    return (
      within(Math.abs(along), 0.93) *
      (1 - under(y, sheer + 0.003, 0.003)) *
      under(y, sheer - 0.018 * (1 - along ** 2), 0.003)
    );
  };
  const rim: Field = (x, y) => {
    const along = alongBoat(x);
    return within(Math.abs(along), 1.01) * within(Math.abs(y - sheerAt(along)), 0.0045);
  };
  return [thing(shade, () => 0.38), thing(hull, paint), thing(inner, () => 0.55), thing(rim, () => 1.78)];
}

const PERSON = { x: 0.565, headX: 0.568, faceY: 0.534, foot: 0.9 } as const;

/** Somebody in a dark jersey and light trousers, hands in pockets, the hat's brim shading the face. */
function person(noise: ValueNoise): Layer[] {
  const cloth: Field = (x, y) => noise.layered(x * 160, y * 160, 3);
  const wool: Field = (x, y) => 0.05 * Math.sin(y * 900) * noise.smooth(x * 30, y * 30);
  return [
    thing(
      (x, y) => ellipse(x - 0.68, y - 0.908, 0.13, 0.011) * 0.7,
      () => 0.25,
    ),
    thing(legs, (x, y) => 1.14 + 0.14 * cloth(x, y) + roundness(x, 0.03, 0.16)),
    thing(body, (x, y) => 0.42 + 0.1 * cloth(x, y) + wool(x, y) + roundness(x, 0.05, 0.2)),
    thing(face, faceTone),
    thing(hat, (x, y) => 1.5 + 0.06 * cloth(x, y) + roundness(x, 0.03, 0.22)),
  ];
}

/** The sun is on the left: light falls off across a round thing of this radius. */
function roundness(x: number, radius: number, strength: number): number {
  return -strength * Math.max(-1, Math.min(1, (x - PERSON.x) / radius));
}

/** A limb or trunk: straight from one point to another, its half-width changing evenly on the way. */
type Limb = readonly [
  fromX: number,
  fromY: number,
  fromSize: number,
  toX: number,
  toY: number,
  toSize: number,
];

const LEGS: readonly Limb[] = [
  [-0.015, 0.735, 0.021, -0.024, 0.885, 0.0145],
  [0.016, 0.735, 0.021, 0.03, 0.885, 0.0145],
];
const JERSEY: readonly Limb[] = [
  [0, 0.612, 0.04, 0, 0.73, 0.036],
  [-0.016, 0.598, 0.026, 0.016, 0.598, 0.026],
  [-0.042, 0.612, 0.0165, -0.062, 0.675, 0.0145],
  [-0.062, 0.675, 0.0145, -0.038, 0.738, 0.0125],
  [0.042, 0.612, 0.0165, 0.064, 0.675, 0.0145],
  [0.064, 0.675, 0.0145, 0.04, 0.738, 0.0125],
];
const BOOTS: readonly Limb[] = [
  [-0.024, 0.893, 0.0125, -0.034, 0.899, 0.0095],
  [0.03, 0.893, 0.0125, 0.042, 0.899, 0.0095],
];

function legs(x: number, y: number): number {
  return anyOf(LEGS, x, y);
}

function body(x: number, y: number): number {
  return Math.max(anyOf(JERSEY, x, y), anyOf(BOOTS, x, y));
}

function anyOf(limbs: readonly Limb[], x: number, y: number): number {
  return limbs.reduce((most, limb) => Math.max(most, alongLimb(limb, x, y)), 0);
}

function alongLimb([fromX, fromY, fromSize, toX, toY, toSize]: Limb, x: number, y: number): number {
  const alongX = toX - fromX;
  const alongY = toY - fromY;
  const dx = x - PERSON.x - fromX;
  const dy = y - fromY;
  const share = Math.min(1, Math.max(0, (dx * alongX + dy * alongY) / (alongX ** 2 + alongY ** 2)));
  const away = Math.sqrt((dx - share * alongX) ** 2 + (dy - share * alongY) ** 2);
  return within(away, mix(fromSize, toSize, share));
}

function face(x: number, y: number): number {
  const head = ellipse(x - PERSON.headX, y - PERSON.faceY, 0.0235, 0.0325);
  const neck = within(Math.abs(x - PERSON.x - 0.001), 0.0125) * within(0.55, y) * within(y, 0.586);
  return Math.max(head, neck);
}

function faceTone(x: number, y: number): number {
  const dx = (x - PERSON.headX) / 0.0235;
  const dy = (y - PERSON.faceY) / 0.0325;
  const brimShade = 0.16 * smoothStep((0.15 - dy) / 0.6);
  const skin = 1.08 - 0.17 * dx - 0.12 * dx * dx - brimShade - 0.2 * smoothStep((dy - 0.75) / 0.4);
  const eyes = Math.max(softSpot(dx - 0.42, dy - 0.02, 0.2, 0.09), softSpot(dx + 0.34, dy - 0.02, 0.2, 0.09));
  const nose = softSpot(dx - 0.12, dy - 0.3, 0.12, 0.28);
  const mouth = softSpot(dx - 0.04, dy - 0.6, 0.34, 0.06);
  return skin - 0.42 * eyes - 0.12 * nose - 0.28 * mouth;
}

function softSpot(dx: number, dy: number, radiusX: number, radiusY: number): number {
  return smoothStep(1.5 - Math.sqrt((dx / radiusX) ** 2 + (dy / radiusY) ** 2));
}

function hat(x: number, y: number): number {
  const brim = ellipse(x - PERSON.headX, y - 0.514, 0.041, 0.0075);
  const crown = ellipse(x - PERSON.headX, y - 0.507, 0.0245, 0.03) * within(y, 0.514);
  return Math.max(brim, crown);
}

const REED_COUNT = 46;

function reeds(noise: ValueNoise): Layer {
  const stems = Array.from({ length: REED_COUNT }, (_, stem) => ({
    rootX: 1.52 - 0.27 * noise.at(stem, 1) ** 1.4,
    height: 0.1 + 0.2 * noise.at(stem, 2),
    lean: (noise.at(stem, 3) - 0.6) * 0.12,
    tipTone: 0.75 * noise.at(stem, 4),
  }));
  return (behind) => (x, y) =>
    stems.reduce(
      (value, { rootX, height, lean, tipTone }) => {
        const up = (1.01 - y) / height;
        if (up > 1) return value;
        const blade = within(Math.abs(x - rootX - lean * up * up), 0.0038 * (1 - up) + 0.0006);
        return mix(value, 0.5 + tipTone * up, blade);
      },
      behind(x, y),
    );
}

function ellipse(dx: number, dy: number, radiusX: number, radiusY: number): number {
  const reach = Math.sqrt((dx / radiusX) ** 2 + (dy / radiusY) ** 2);
  return 1 - smoothStep(((reach - 1) * Math.min(radiusX, radiusY)) / EDGE + 0.5);
}

/** 1 where `value` is below `limit`, with a soft edge. */
function within(value: number, limit: number): number {
  return smoothStep((limit - value) / EDGE + 0.5);
}

/** Width of an outline, in scene units: what the lens left of sharpness. */
const EDGE = 0.0022;

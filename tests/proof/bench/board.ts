import { buildImage, canBuildImages } from '../../firmware/board/rig/image.js';
import { eventCosts, lightUnderLoad, pedalToLampUs } from '../../firmware/board/rig/measures.js';
import { type Section, thousands } from './page.js';

const onTimesUs = [10_000, 100_000, 1_000_000, 20_000_000, 600_000_000];
const seeds = [1, 2, 3, 4, 5];
const KIB = 1024;

type Row = readonly (string | number)[];

function imageRows(): Row[] {
  const { report } = buildImage();
  return [
    ['image: flash, bytes', thousands(report.flashBytes), `at most ${thousands(98 * KIB)}`],
    [
      "image: RAM with the core's 64 KiB, bytes",
      thousands(report.ramBytes),
      `at most ${thousands(96 * KIB)}`,
    ],
    [
      'image: deepest stack, bytes',
      thousands(report.stackDeepestBytes),
      `${thousands(report.stackReservedBytes)} kept`,
    ],
  ];
}

function relayRows(): Row[] {
  return onTimesUs.map((onUs) => {
    const error = lightUnderLoad(onUs).lightUs - onUs;
    return [`lamp on for ${onUs / 1000} ms under full load: error, us`, error.toFixed(2), 'at most 2'];
  });
}

function pedalRow(when: string, talking: boolean): Row {
  const worstUs = Math.max(...seeds.map((seed) => pedalToLampUs(seed, talking)));
  return [`pedal let go, bouncing, to lamp on${when}: worst, us`, worstUs.toFixed(0), 'at most 1000'];
}

function eventRows(): Row[] {
  return [...eventCosts().costs].map(([name, { count, instructions, worstInstructions, worstUs }]) => [
    `event ${name}: instructions (mean; worst; worst us)`,
    `${thousands(instructions / count)}; ${thousands(worstInstructions)}; ${worstUs.toFixed(0)}`,
    `${count} times`,
  ]);
}

/** The board's figures, in emulated time: exact, and the same on every machine. */
export function boardFigures(): Section {
  const rows = canBuildImages()
    ? [
        ...imageRows(),
        ...relayRows(),
        pedalRow('', false),
        pedalRow(', while the laptop pulls the log', true),
        ...eventRows(),
      ]
    : [['not measured: gcc-arm-none-eabi or wabt is not installed', '', '']];
  return {
    title: 'The board',
    about:
      'The image of the real core on an emulated RP2040, in emulated time, with the time that the flash takes; full load is the serial line full both ways while the display changes. Not yet measured on a physical board.',
    columns: ['what', 'figure', 'allowed'],
    rows,
  };
}

import { execFileSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { buildImage, canBuildImages } from '../../firmware/board/rig/image.js';
import { eventCosts, lightUnderLoad, pedalToLampUs } from '../../firmware/board/rig/measures.js';
import { exposeUnderUsbFlood, exposeUnderUsbResets } from '../../firmware/board/rig/usb/flood.js';
import { type Section, thousands } from './page.js';

const onTimesUs = [10_000, 100_000, 1_000_000, 20_000_000, 600_000_000];
const seeds = [1, 2, 3, 4, 5];
const KIB = 1024;

type Row = readonly (string | number)[];

/** What the compiled files of USB take: code and constants, and memory beside them. */
function usbBytes(objects: string): { readonly code: number; readonly memory: number } {
  const files = readdirSync(objects).filter((name) => /\.usb\w*\.o$/.test(name));
  const sizes = execFileSync('arm-none-eabi-size', files, { cwd: objects, encoding: 'utf8' });
  const rows = sizes.trim().split('\n').slice(1);
  const sum = (column: number) =>
    rows.reduce((bytes, row) => bytes + Number(row.trim().split(/\s+/)[column]), 0);
  return { code: sum(0) + sum(1), memory: sum(2) };
}

function imageRows(): Row[] {
  const { report, folder } = buildImage();
  const usb = usbBytes(join(folder, 'objects'));
  return [
    ['image: flash, bytes', thousands(report.flashBytes), `at most ${thousands(160 * KIB)}`],
    [
      "image: RAM with the core's 64 KiB, bytes",
      thousands(report.ramBytes),
      `at most ${thousands(104 * KIB)}`,
    ],
    [
      'image: deepest stack, bytes',
      thousands(report.stackDeepestBytes),
      `${thousands(report.stackReservedBytes)} kept`,
    ],
    [
      'USB in it: code and constants; memory, bytes',
      `${thousands(usb.code)}; ${thousands(usb.memory)}`,
      `at most ${thousands(8 * KIB)} together`,
    ],
  ];
}

function relayRows(): Row[] {
  return onTimesUs.map((onUs) => {
    const error = lightUnderLoad(onUs).lightUs - onUs;
    return [`lamp on for ${onUs / 1000} ms under full load: error, us`, error.toFixed(2), 'at most 2'];
  });
}

function usbRows(): Row[] {
  const disturbances = [
    ['USB full both ways, ', 10_000, exposeUnderUsbFlood],
    ['USB full both ways, ', 250_000, exposeUnderUsbFlood],
    ['the USB bus reset every 0.4 ms, ', 100_000, exposeUnderUsbResets],
  ] as const;
  return disturbances.flatMap(([when, onUs, expose]) => {
    const { lightUs, delayUs } = expose(onUs);
    return [
      [`${when}lamp on for ${onUs / 1000} ms: error, us`, (lightUs - onUs).toFixed(2), 'at most 2'],
      [`${when}pedal down to lamp on: us`, delayUs.toFixed(0), 'at most 1000'],
    ];
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
        ...usbRows(),
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

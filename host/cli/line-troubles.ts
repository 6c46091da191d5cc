import type { BoardCounters } from '../board/link/board.js';
import type { LinkCounters } from '../board/link/link.js';

/** A counter of trouble on the line: what it counts, and what a person can do about it. */
export interface Trouble<Name extends string = string> {
  readonly name: Name;
  readonly meaning: string;
  readonly advice: string;
  /** Worth knowing, and no sign of a bad line. */
  readonly harmless?: true;
}

type BoardCounter = Exclude<keyof BoardCounters, 'type' | 'id'>;

const CABLE =
  'Try a shorter or shielded cable, keep it away from the lamp lead, and see that the relay has its snubber; if ' +
  'it comes in bursts as the lamp switches, it is the relay.';
const OTHER_PROGRAM =
  'Another program talks on this port. On Linux install the udev rule, which keeps ModemManager off; elsewhere ' +
  'close terminals and development tools that hold the port.';

/** In the order of the line's way up: hardware first. */
export const boardTroubles: readonly Trouble<BoardCounter>[] = [
  {
    name: 'overruns',
    meaning: 'bytes lost because the chip was too slow',
    advice:
      'The firmware should never let this happen: bring it up to date with `treadle flash`, and report it.',
  },
  {
    name: 'lostInRing',
    meaning: 'bytes lost because lines came too fast',
    advice: `Something sends without waiting for answers. ${OTHER_PROGRAM}`,
  },
  {
    name: 'framingErrors',
    meaning: 'bytes without their stop bit',
    advice: `The two sides disagree about the baud rate, or the line is noisy. ${CABLE}`,
  },
  {
    name: 'breaks',
    meaning: 'breaks on the line',
    advice:
      'The cable was pulled, or a wire of it makes bad contact: push the plugs home, try another cable.',
  },
  { name: 'badLines', meaning: 'lines that are no lines of the protocol', advice: OTHER_PROGRAM },
  { name: 'badCrcs', meaning: 'lines damaged on their way to the board', advice: CABLE },
  { name: 'longLines', meaning: 'lines longer than allowed', advice: OTHER_PROGRAM },
  {
    name: 'repeats',
    meaning: 'requests heard twice and answered from memory',
    advice: `Answers got lost on their way back; nothing was done twice. ${CABLE}`,
  },
  {
    name: 'refusals',
    meaning: 'requests refused, with a reason',
    advice: 'No trouble of the line: each was told to whoever asked, for instance that the board was busy.',
    harmless: true,
  },
  {
    name: 'noticesDropped',
    meaning: 'live events not sent, because nobody read',
    advice: 'The log is whole all the same. Let `treadle watch` run on a laptop that does not sleep.',
  },
  {
    name: 'entriesLost',
    meaning: 'log entries lost, because there was no room for them',
    advice:
      'Run `treadle collect`: what is safe on the laptop makes room. If it comes back, the flash is failing.',
  },
];

export const laptopTroubles: readonly Trouble<Exclude<keyof LinkCounters, 'linesSent' | 'linesReceived'>>[] =
  [
    { name: 'badLines', meaning: 'lines that are no lines of the protocol', advice: CABLE },
    { name: 'badCrcs', meaning: 'lines damaged on their way to the laptop', advice: CABLE },
    {
      name: 'unreadable',
      meaning: 'whole lines that this version cannot read',
      advice: 'Laptop and board are out of step: `treadle info` says which to update.',
    },
    {
      name: 'discardedBytes',
      meaning: 'bytes thrown away',
      advice:
        'A few before the first answer are left-overs from before the port was opened, and harmless. ' +
        CABLE,
    },
    {
      name: 'repeats',
      meaning: 'requests sent again',
      advice: `The board did not answer in time or could not read them. ${CABLE}`,
    },
    {
      name: 'strayAnswers',
      meaning: 'answers to nothing that was asked',
      advice: `They came after their request had been given up, or another program asked. ${OTHER_PROGRAM}`,
    },
    {
      name: 'wrongAnswers',
      meaning: 'answers that cannot belong to what was asked',
      advice: `They were not taken. Give the board its power anew; if it goes on, flash its firmware again. ${OTHER_PROGRAM}`,
    },
    {
      name: 'noticesDropped',
      meaning: 'live events thrown away here',
      advice: 'This program was too slow for them; the log is whole all the same.',
    },
  ];

import { type ProfileTally, profileTally } from '../../host/darkroom/profile/profile-trials.js';
import { percent, type Section } from './page.js';

/** 200 of each kind take half an hour. */
const PAPERS = Number(process.env.PAPERS ?? 20);
/** Beyond those that the profile's figures were tried on while it was made. */
const FIRST_SEED = 20_001;

/** Papers whose truth is known, each measured by some strips, and what was made of them. */
export function papersMeasured(): Section {
  const kinds = (['flatbed', 'phone'] as const).flatMap((device) =>
    [1, 3, 5].map((strips) => ({ device, strips })),
  );
  return {
    title: 'Papers measured by scanned strips',
    about:
      `${PAPERS} seeded papers a row (PAPERS=200 for more) of the virtual darkroom, which is the ground truth: no real paper was read. Graded papers and ` +
      'papers with filters, ISO R 45 to 180, black 1.9 to 2.2 above white, one scanner for all strips of a paper with its own tone ' +
      'curve and stray light, strips of 5 to 8 patches wherever they happen to lie, and a light meter that is off by a tenth ' +
      '(one deviation). Goals: R within 6 (one deviation) after a few strips of a flatbed, and the printed 95 % intervals of R and P ' +
      'right in 93 to 97 of 100.',
    columns: [
      'strips',
      'R told',
      'R off, 1 sigma',
      'R in its interval',
      'P off, stops',
      'P in its interval',
      'left out',
    ],
    rows: kinds.map(({ device, strips }) => [
      `${device}, ${strips === 1 ? '1 strip' : `${strips} strips`}`,
      ...cells(profileTally(seeds, strips, device)),
    ]),
  };
}

const seeds = Array.from({ length: PAPERS }, (_, at) => FIRST_SEED + at);

function cells(tally: ProfileTally): string[] {
  return [
    `${tally.rangesTold} of ${tally.papers}`,
    tally.sigmaR.toFixed(1),
    percent(tally.insideR),
    tally.sigmaSpeed.toFixed(3),
    percent(tally.insideSpeed),
    `${tally.leftOut}`,
  ];
}

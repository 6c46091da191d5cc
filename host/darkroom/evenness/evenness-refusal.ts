/** Why the light was not told from a grey sheet, and what to do. */
export const evennessRefusals = {
  'no-sheet':
    'no even grey area fills the middle of the picture: scan the whole sheet, alone in the frame, and crop away what is not paper',
  clipped:
    'the grey or the paper white is at the end of the scale: scan again with automatic corrections off, less bright',
  'automatic-tone':
    'black and white both lie at the ends of the scale, as automatic corrections put them: switch these off and scan again',
  camera:
    "a camera's own fall-off is as large as an enlarger's: scan the sheet on a flatbed, or say --by flatbed where a flatbed wrote this JPEG",
  picture:
    'the grey has a picture, streaks or spots on it: take the negative out of the carrier, keep the sheet moving in the developer, and expose another',
  'no-white':
    "no unexposed paper is in the frame to measure the grey from: leave a white border by the easel's blades, or scan a second, darker sheet and name it by --darker",
  'too-light':
    'the grey is too light to tell light from: expose a sheet to a middle grey, about half as light as the paper',
  'too-dark': 'the grey is too dark to tell light from: expose a sheet to a middle grey',
  'another-sheet':
    'the scans do not show sheets of one shape: scan all of them whole and alike, the longer side the same way',
  'not-darker':
    'the second sheet is not darker by as much as was said: give it so much more light as --darker-by says, and name the lighter one first',
  'other-step':
    'the second sheet is not darker by as much as 1/2 stop makes it on most papers: say by --darker-by how much more light it had, as 1 for a whole stop, or 1/2 where your paper is that hard or soft. A whole stop taken for half a stop would make every fall-off half of what it is',
  'not-turned':
    'the two scans differ by more than any flatbed: scan one and the same sheet, turned by 180 degrees on the glass',
} as const;
export type EvennessRefusal = keyof typeof evennessRefusals;

/** Thrown inside the survey, and handed out as its `refused`. */
export class SurveyRefused extends Error {
  override readonly name = 'SurveyRefused';
  constructor(readonly code: EvennessRefusal) {
    super(evennessRefusals[code]);
  }
}

/** Why a strip was not read, and what to do: no figure stands without its interval, and none where one of these holds. */
export const refusals = {
  'not-a-strip':
    'no row of ever darker patches is to be seen: crop the scan to the strip and its white border; where all of it is white, expose a strip with more light',
  'fewer-patches':
    'there are fewer patches than the strip is said to have: scan all of it, name its sheet or the right number with --patches, or place the edges with --edges-at',
  'wrong-sheet':
    'the tones do not go with these exposures: name the sheet of the log that this is, or give --first, --step and --patches; where one patch is much narrower than the others, place the edges with --edges-at',
  'room-for-more':
    'before the first patch there is white paper for one more, and on no other side: give the number of all patches with --patches, those that stayed white with them; where it is right, crop the scan nearer to the first patch, or place the edges with --edges-at',
  'edges-outside':
    'an edge lies outside the picture: give the pixels at which they lie in it, from left to right or from top to bottom',
  'no-white': 'no unexposed paper is in the frame to measure from: scan the strip with its white border',
  clipped: 'the white of the paper is at the end of the scale: scan again, less bright',
  'automatic-tone':
    'white and black both lie at the ends of the scale, as automatic corrections put them: switch these off and scan again',
  'too-dark': 'the picture is too dark to tell tones apart: give it more light, or a longer exposure',
  glare:
    'parts of patches are far lighter than the rest, as by wet gloss or a reflection: dry the strip, and turn the light',
  moire:
    'the picture has a pattern of waves: scan in another resolution, or photograph from another distance',
  picture:
    'the patches show a picture, so that their averages say little: give the scan of its negative with --negative, expose a strip without one, or crop the scan where more than one strip lies in it',
  'unlike-negative':
    "the strip's picture is not found on this negative: give the scan of the negative that was in the carrier, all of its frame, and say with --scan-is if it shows a positive; if it is that one, the strip shows too little of it, or is all but white: expose one across more of its tones",
  'no-grey-there':
    'at the place whose tone is meant there is no even grey between paper white and black: point at the middle of a patch, or give its pixels from left and top',
  'too-light-strip': 'no patch is as dark as the tone: expose a strip with more light',
  'too-dark-strip': 'every patch is darker than the tone: expose a strip with less light',
} as const;
export type RefusalCode = keyof typeof refusals;

/** Thrown inside the reading, and handed out as its `refused`. */
export class StripRefused extends Error {
  override readonly name = 'StripRefused';
  constructor(readonly code: RefusalCode) {
    super(refusals[code]);
  }
}

/** What a sheet was, for a printer who named another than was meant. */
export const jobWords = {
  recipe: 'a print',
  plain: 'a print',
  strip: 'a strip',
  bracket: 'a bracket',
  'lamp-test': 'a lamp test',
  'safelight-test': 'a safelight test',
  'stray-light-test': 'a test for stray light',
  clock: 'no light at all',
  checkup: 'no light at all',
  process: 'no light at all',
  none: 'no light at all',
} as const;

import { isDark } from '../shell/theme.js';

/** A dark page stays red all over. */
export function ink(): 'white' | 'red' {
  return isDark.value ? 'red' : 'white';
}

/** A dark page stays red all over. */
export function ink(): 'white' | 'red' {
  return document.documentElement.dataset.theme === 'dark' ? 'red' : 'white';
}

import { effect, signal } from '@preact/signals';

const REMEMBERED = 'treadle-theme';

/** Red on black, or black on white; remembered by the browser where it may. */
export const isDark = signal(remembered() === 'dark');

/** Puts the theme on the page, now and whenever it is turned. */
export function wearTheme(): void {
  effect(() => {
    const theme = isDark.value ? 'dark' : 'light';
    document.documentElement.dataset.theme = theme;
    try {
      localStorage.setItem(REMEMBERED, theme);
    } catch {
      // A page from a folder, or a browser that keeps nothing: then it is for this time.
    }
  });
}

function remembered(): string | null {
  try {
    return localStorage.getItem(REMEMBERED);
  } catch {
    return null;
  }
}

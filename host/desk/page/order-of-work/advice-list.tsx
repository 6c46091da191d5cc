import type { Advice } from '../../../daylight/advice.js';
import { shownText } from '../shell/shown-text.js';

/** What a careful colleague would say before paper is spent. */
export function AdviceList({ advice }: { readonly advice: readonly Advice[] }) {
  if (advice.length === 0) return null;
  return (
    <ul class="advice" aria-label="Advice">
      {advice.map(({ text }) => (
        <li key={text}>{shownText(text)}</li>
      ))}
    </ul>
  );
}

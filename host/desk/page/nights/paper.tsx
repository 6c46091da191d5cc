import { useLayoutEffect, useRef } from 'preact/hooks';
import type { LookingBack } from './looking-back.js';

interface Props {
  readonly looking: LookingBack;
}

/** A page to print, as it lies on the paper; the browser prints this and nothing else of the desk. */
export function Paper({ looking }: Props) {
  const { title, text, type } = looking.paper.value!;
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    // Read as a document of its own, in which nothing runs and nothing loads.
    const read = new DOMParser().parseFromString(withoutStyles(text), type);
    const root = type === 'text/html' ? read.body : read.documentElement;
    place.current!.replaceChildren(...(type === 'text/html' ? root.childNodes : [root]));
  }, [text]);
  return (
    <section aria-label={title}>
      <p class="off-paper">
        <button type="button" onClick={() => print()}>
          Print it
        </button>{' '}
        <button type="button" onClick={() => looking.leavePaper()}>
          Back
        </button>
      </p>
      <div class={type === 'text/html' ? 'paper page' : 'paper'} ref={place} />
    </section>
  );
}

/** The page's policy takes no style from markup; figures stand below each other here anyway. */
function withoutStyles(markup: string): string {
  return markup.replace(/(<[^>]*) style="[^"]*"/g, '$1');
}

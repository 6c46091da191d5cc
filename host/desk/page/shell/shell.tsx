import { leftAfterPointer } from './left-after-pointer.js';
import { showView, type View, viewName } from './view.js';

interface Props {
  readonly views: readonly View[];
}

/** What there is to do at the desk, and the one thing that is being done. */
export function Shell({ views }: Props) {
  const view = views.find(({ name }) => name === viewName.value) ?? views[0]!;
  return (
    <>
      {views.length > 1 && (
        <nav aria-label="Desk" {...leftAfterPointer()}>
          {views.map((each) => (
            <button
              type="button"
              key={each.name}
              aria-current={each === view ? 'page' : undefined}
              onClick={() => showView(each)}
            >
              {each.title}
            </button>
          ))}
        </nav>
      )}
      {view.show()}
    </>
  );
}

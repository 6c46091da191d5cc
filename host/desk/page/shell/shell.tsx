import { leftAfterPointer } from './left-after-pointer.js';
import { isDark } from './theme.js';
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
          <ThemeSwitch />
        </nav>
      )}
      {view.show()}
    </>
  );
}

/** The rehearsal is dark whatever is chosen here. */
function ThemeSwitch() {
  return (
    <label class="theme">
      <input
        type="checkbox"
        checked={isDark.value}
        onChange={({ currentTarget: { checked } }) => {
          isDark.value = checked;
        }}
      />
      red on black
      {isDark.value && <span> (a screen still fogs paper: not in the darkroom while a sheet is out)</span>}
    </label>
  );
}

import type { Shape } from '../../../recipe/shape.js';
import type { Area } from './areas.js';
import type { PictureOnDesk } from './picture-on-desk.js';
import { type Point, withCorner, withNewCorner, withoutCorner } from './shape-changes.js';

interface Props {
  readonly picture: PictureOnDesk;
  readonly area: Area;
  readonly shape: Extract<Shape, { kind: 'polygon' }>;
  /** Of the drawing, whose height is 100. */
  readonly width: number;
  readonly arrows: Readonly<Record<string, Point>>;
  drag(area: Area, pull: (shape: Shape, by: Point) => Shape): (event: PointerEvent) => void;
}

/** A polygon's corners, each to be dragged, and moved, doubled and taken away by keys. */
export function Corners({ picture, area, shape, width, arrows, drag }: Props) {
  const { pointsPercent: points } = shape;
  const press = (corner: number) => (event: KeyboardEvent) => {
    const by = arrows[event.key];
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (by !== undefined) picture.reshape(area, withCorner(shape, corner, by));
    else if (event.key === 'n') addCorner(picture, area, shape);
    else if (event.key === 'Delete' || event.key === 'Backspace') takeCorner(picture, area, shape);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <>
      {points.map(([x, y], corner) => (
        // biome-ignore lint/a11y/useSemanticElements: there is no button inside a drawing
        <rect
          key={corner}
          role="button"
          tabindex={0}
          aria-label={`corner ${corner + 1} of ${points.length}`}
          aria-pressed={picture.corner.value === corner}
          class={picture.corner.value === corner ? 'handle chosen' : 'handle'}
          x={(x * width) / 100 - 1.2}
          y={y - 1.2}
          width="2.4"
          height="2.4"
          onFocus={() => {
            picture.corner.value = corner;
          }}
          onKeyDown={press(corner)}
          onPointerDown={(event) => {
            picture.corner.value = corner;
            drag(area, (from, by) => withCorner(from, corner, by))(event);
          }}
        />
      ))}
    </>
  );
}

/** For those who would rather press: a new corner after the chosen one, or that one taken away. */
export function CornerButtons({ picture, area }: Pick<Props, 'picture' | 'area'>) {
  const { shape } = area;
  if (shape?.kind !== 'polygon') return null;
  return (
    <>
      <button type="button" onClick={() => addCorner(picture, area, shape)}>
        New corner
      </button>
      <button type="button" onClick={() => takeCorner(picture, area, shape)}>
        Take the corner away
      </button>
    </>
  );
}

function addCorner(picture: PictureOnDesk, area: Area, shape: Props['shape']): void {
  picture.beginStep();
  picture.reshape(area, withNewCorner(shape, chosenOf(picture, shape)));
  picture.corner.value = chosenOf(picture, shape) + 1;
}

function takeCorner(picture: PictureOnDesk, area: Area, shape: Props['shape']): void {
  picture.beginStep();
  picture.reshape(area, withoutCorner(shape, chosenOf(picture, shape)));
}

/** What was chosen of another area counts here as far as it goes. */
function chosenOf({ corner }: PictureOnDesk, { pointsPercent }: Props['shape']): number {
  return Math.min(corner.value, pointsPercent.length - 1);
}

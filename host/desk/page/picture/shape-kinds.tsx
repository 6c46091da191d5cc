import type { Shape } from '../../../recipe/shape.js';

const shapeWords: Readonly<Record<Shape['kind'], string>> = {
  rectangle: 'rectangle',
  ellipse: 'ellipse',
  polygon: 'polygon',
  edge: 'edge, fading inwards',
};

/** What an area can be, as choices. */
export function ShapeKinds() {
  return (
    <>
      {Object.entries(shapeWords).map(([kind, words]) => (
        <option value={kind} key={kind}>
          {words}
        </option>
      ))}
    </>
  );
}

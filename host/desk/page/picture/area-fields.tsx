import { useState } from 'preact/hooks';
import { formatStops, readStops } from '../../../recipe/index.js';
import { type Shape, shapeLimits } from '../../../recipe/shape.js';
import { type Area, placeName } from './areas.js';
import { CornerButtons } from './corners.js';
import { FigureField } from './figure-field.js';
import type { PictureOnDesk } from './picture-on-desk.js';
import { outlineBox, shapeBetween } from './shape-changes.js';
import { ShapeKinds } from './shape-kinds.js';

interface Props {
  readonly picture: PictureOnDesk;
}

/** What the chosen area is, in figures. */
export function AreaFields({ picture }: Props) {
  const area = picture.chosen.value;
  if (area === undefined)
    return <p class="area-fields">Choose an area on the sheet to change it, or make a new one.</p>;
  return (
    <form class="area-fields" key={placeName(area.place)} onSubmit={(event) => event.preventDefault()}>
      <h3>
        {area.kind} {area.number}: {area.label}
      </h3>
      <StopsField area={area} picture={picture} />
      <ShapeFields area={area} picture={picture} />
      <CornerButtons picture={picture} area={area} />
      <label class="tick">
        <input
          type="checkbox"
          checked={picture.hidden.value.has(placeName(area.place))}
          onChange={({ currentTarget }) => picture.hide(area, currentTarget.checked)}
        />
        look without it
      </label>
      <p id="area-keys">
        {picture.drawing.value && 'Drag on the sheet to draw it. '}
        On the sheet: arrow keys move it, with Shift they make it larger or smaller, + and - turn its stops, h
        hides it. The wheel turns its stops while it has the focus.
        {area.shape?.kind === 'polygon' &&
          ' On a corner: arrow keys move it, n makes a new one after it, Delete takes it away.'}
      </p>
    </form>
  );
}

interface AreaProps extends Props {
  readonly area: Area;
}

function StopsField({ area, picture }: AreaProps) {
  const [fault, setFault] = useState('');
  const take = (text: string) => {
    try {
      picture.beginStep();
      picture.giveStops(area, readStops(text));
      setFault('');
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <label>
      stops
      <input
        size={7}
        value={formatStops(area.stops120)}
        aria-invalid={fault !== ''}
        onChange={({ currentTarget }) => take(currentTarget.value)}
      />
      {fault !== '' && <span role="alert">{fault}</span>}
    </label>
  );
}

function ShapeFields({ area, picture }: AreaProps) {
  const { shape } = area;
  const give = (next: Shape) => {
    picture.beginStep();
    picture.reshape(area, next);
  };
  const giveKind = (kind: Shape['kind']) => {
    const [left, top, right, bottom] = shape === undefined ? [35, 35, 65, 65] : outlineBox(shape);
    give(shapeBetween(kind, [left, top], [right, bottom]));
  };
  return (
    <>
      <label>
        is
        <select
          value={shape?.kind ?? ''}
          onChange={({ currentTarget }) => giveKind(currentTarget.value as Shape['kind'])}
        >
          {shape === undefined && <option value="">not on the sheet yet</option>}
          <ShapeKinds />
        </select>
      </label>
      {shape !== undefined && 'softPercent' in shape && (
        <FigureField
          words="soft rim, %"
          value={shape.softPercent}
          least={shapeLimits.leastSoftPercent}
          most={shapeLimits.softPercent}
          give={(softPercent) => give({ ...shape, softPercent })}
        />
      )}
      {shape?.kind === 'ellipse' && (
        <FigureField
          words="turned, degrees"
          value={shape.turnDegrees}
          least={-180}
          most={180}
          give={(turnDegrees) => give({ ...shape, turnDegrees })}
        />
      )}
    </>
  );
}

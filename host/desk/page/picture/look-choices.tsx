import { useState } from 'preact/hooks';
import { limits } from '../../../../shared-protocol/limits.js';
import type { Shape } from '../../../recipe/shape.js';
import type { Area } from './areas.js';
import { KeptBeside } from './kept-beside.js';
import type { PictureOnDesk } from './picture-on-desk.js';
import { ShapeKinds } from './shape-kinds.js';

interface Props {
  readonly picture: PictureOnDesk;
}

/** New areas, and how the sheet is looked at. */
export function LookChoices({ picture }: Props) {
  const [shape, setShape] = useState<Shape['kind']>('ellipse');
  const { passes } = picture.print.recipe.value;
  const base = passes.find(({ kind }) => kind === 'base');
  const isFull: Record<Area['kind'], boolean> = {
    burn: passes.length >= limits.recipePasses,
    dodge: base === undefined || base.dodges.length >= limits.recipeDodges,
  };
  return (
    <form class="look" onSubmit={(event) => event.preventDefault()}>
      <label>
        area
        <select
          value={shape}
          onChange={({ currentTarget }) => setShape(currentTarget.value as Shape['kind'])}
        >
          <ShapeKinds />
        </select>
      </label>
      {(['dodge', 'burn'] as const).map((kind) => (
        <button
          type="button"
          key={kind}
          aria-disabled={isFull[kind]}
          onClick={() => isFull[kind] || picture.add(kind, shape)}
        >
          New {kind}
        </button>
      ))}
      <label class="tick">
        <input
          type="checkbox"
          checked={picture.marked.value}
          onChange={({ currentTarget }) => {
            picture.marked.value = currentTarget.checked;
          }}
        />
        mark what is beyond the last tone
      </label>
      <button
        type="button"
        onClick={() => {
          picture.layBeside(picture.beside.value === undefined ? picture.planned.value : undefined);
        }}
      >
        {picture.beside.value === undefined ? 'Lay this beside' : 'Put the other away'}
      </button>
      <KeptBeside picture={picture} />
    </form>
  );
}

import { type Framing, framingLimits, noFraming } from '../../../recipe/framing.js';
import { FigureField } from './figure-field.js';
import type { PictureOnDesk } from './picture-on-desk.js';

interface Props {
  readonly picture: PictureOnDesk;
}

const blades = [
  ['leftPercent', 'rightPercent', 'left'],
  ['topPercent', 'bottomPercent', 'top'],
  ['rightPercent', 'leftPercent', 'right'],
  ['bottomPercent', 'topPercent', 'bottom'],
] as const;

/** How the scan lies in the easel's frame, in figures. */
export function FramingFields({ picture }: Props) {
  const framing = picture.print.recipe.value.framing ?? noFraming;
  const give = (change: Partial<Framing>) => {
    picture.beginStep();
    picture.reframe(change);
  };
  const turnQuarter = (by: number) => give({ quarterTurns: (framing.quarterTurns + by) % 4 });
  return (
    <fieldset class="framing">
      <legend>On the easel</legend>
      <button type="button" onClick={() => turnQuarter(3)}>
        quarter turn left
      </button>
      <button type="button" onClick={() => turnQuarter(1)}>
        quarter turn right
      </button>
      <label class="tick">
        <input
          type="checkbox"
          checked={framing.mirrored}
          onChange={({ currentTarget }) => give({ mirrored: currentTarget.checked })}
        />
        mirrored
      </label>
      <FigureField
        step={0.1}
        words="turned, degrees"
        value={framing.turnDegrees}
        least={-framingLimits.turnDegrees}
        most={framingLimits.turnDegrees}
        give={(turnDegrees) => give({ turnDegrees })}
      />
      {blades.map(([blade, facing, words]) => (
        <FigureField
          step={0.1}
          key={blade}
          words={`${words} blade in, %`}
          value={framing[blade]}
          least={0}
          most={framingLimits.bladesPercent - framing[facing]}
          give={(percent) => give({ [blade]: percent })}
        />
      ))}
      <label>
        the scan is a
        <select
          value={framing.scanIs}
          onChange={({ currentTarget }) => give({ scanIs: currentTarget.value as Framing['scanIs'] })}
        >
          <option value="negative">negative</option>
          <option value="positive">positive</option>
        </select>
      </label>
    </fieldset>
  );
}

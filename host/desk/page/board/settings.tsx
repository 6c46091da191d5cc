import type { SettingTold } from '../../server/board/told.js';
import type { BoardInHand } from './board-in-hand.js';
import { KeptField } from './kept-field.js';

interface Props {
  readonly board: BoardInHand;
}

/** What the board keeps, read when it is asked for; a value is sent when it is left or Enter is pressed. */
export function Settings({ board }: Props) {
  const { now, settings } = board;
  if (now.value.stands !== 'there') return null;
  return (
    <details onToggle={({ currentTarget: { open } }) => board.show('settings', open)}>
      <summary>Name and settings</summary>
      <p class="name">
        <label for="board-name">name</label>
        <KeptField
          id="board-name"
          maxLength={16}
          value={now.value.name}
          keep={(name) => board.call(name.trim())}
        />
      </p>
      <table>
        <thead>
          <tr>
            <th>setting</th>
            <th>value</th>
            <th>can be</th>
            <th>what it does</th>
          </tr>
        </thead>
        <tbody>
          {settings.value.map((one) => (
            <Setting key={one.name} board={board} setting={one} />
          ))}
        </tbody>
      </table>
    </details>
  );
}

function Setting({ board, setting }: Props & { readonly setting: SettingTold }) {
  const { name, value, bounds, meaning } = setting;
  return (
    <tr>
      <td>{name}</td>
      <td>
        <KeptField aria-label={name} value={value} keep={(typed) => board.set(name, typed)} />
      </td>
      <td>{bounds}</td>
      <td class="meaning">{meaning}</td>
    </tr>
  );
}

import type { SettingTold } from '../../server/board/told.js';
import type { BoardInHand } from './board-in-hand.js';

interface Props {
  readonly board: BoardInHand;
}

/** What the board keeps, read when it is asked for; a value is sent when it is left or Enter is pressed. */
export function Settings({ board }: Props) {
  const { now, settings } = board;
  if (now.value.stands !== 'there') return null;
  return (
    <details onToggle={({ currentTarget: { open } }) => open && void board.readSettings()}>
      <summary>Name and settings</summary>
      <label class="name">
        name
        <input
          maxLength={16}
          value={now.value.name}
          onChange={({ currentTarget: { value } }) => void board.call(value.trim())}
        />
      </label>
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
        <input
          aria-label={name}
          value={value}
          onChange={({ currentTarget }) => void board.set(name, currentTarget.value)}
        />
      </td>
      <td>{bounds}</td>
      <td class="meaning">{meaning}</td>
    </tr>
  );
}

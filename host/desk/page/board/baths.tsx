import type { BoardInHand } from './board-in-hand.js';

interface Props {
  readonly board: BoardInHand;
}

/** The row of baths as the board counts it. */
export function Baths({ board }: Props) {
  const { now, baths } = board;
  if (now.value.stands !== 'there') return null;
  return (
    <details onToggle={({ currentTarget: { open } }) => board.show('baths', open)}>
      <summary>Baths</summary>
      <table>
        <thead>
          <tr>
            <th>bath</th>
            <th>time</th>
            <th>since mixed</th>
            <th>left</th>
            <th>when it is mixed</th>
          </tr>
        </thead>
        <tbody>
          {baths.value.map((one) => (
            <tr key={one.bath}>
              <td>{one.label}</td>
              <td>{one.time}</td>
              <td>{one.sinceMixed}</td>
              <td>{one.left}</td>
              <td>
                <button type="button" onClick={() => void board.mixed(one)}>
                  {one.label} is fresh
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <label class="name">
        other baths, from a file
        <input
          type="file"
          accept=".json"
          onChange={({ currentTarget: { files } }) => files?.[0] && void board.giveBaths(files[0])}
        />
      </label>
    </details>
  );
}

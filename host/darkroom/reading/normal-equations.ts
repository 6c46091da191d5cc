/** The unknowns of `rows`, each its factors and then its right side, by Gauss-Jordan, the greatest pivot first; `rows` is used up. */
export function solved(rows: number[][]): number[] {
  const count = rows.length;
  for (let at = 0; at < count; at++) {
    const pivot = rows
      .slice(at)
      .reduce((best, row, i) => (Math.abs(row[at]!) > Math.abs(rows[best]![at]!) ? at + i : best), at);
    [rows[at], rows[pivot]] = [rows[pivot]!, rows[at]!];
    for (let row = 0; row < count; row++) {
      if (row === at) continue;
      const times = rows[row]![at]! / rows[at]![at]!;
      for (let column = at; column <= count; column++) rows[row]![column]! -= times * rows[at]![column]!;
    }
  }
  return rows.map((row, at) => row[count]! / row[at]!);
}

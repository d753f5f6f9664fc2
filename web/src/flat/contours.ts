/** Contours and shading of elevations on a grid: rows from south to north, columns from west to east. */

export interface Grid {
  x_m: number;
  y_m: number;
  step_m: number;
  columns: number;
  rows: number;
  /** Row by row; null where nothing is known. */
  elevation_m: readonly (number | null)[];
}

/** One contour: its level, and pieces of it as [x0, y0, x1, y1, ...]. */
export interface Contour {
  level_m: number;
  segments: number[];
}

/** Contours at every multiple of a step; a cell with an unknown corner has none. */
export function contours(grid: Grid, step_m: number): Contour[] {
  const byLevel = new Map<number, number[]>();
  for (let row = 0; row + 1 < grid.rows; row++) {
    for (let column = 0; column + 1 < grid.columns; column++)
      cellContours(grid, row, column, step_m, byLevel);
  }
  return [...byLevel.entries()]
    .sort((a, b) => a[0] - b[0])
    .map(([index, segments]) => ({ level_m: index * step_m, segments }));
}

function cellContours(
  grid: Grid,
  row: number,
  column: number,
  step_m: number,
  byLevel: Map<number, number[]>,
): void {
  const at = row * grid.columns + column;
  const corners = [at, at + 1, at + grid.columns + 1, at + grid.columns].map(
    (place) => grid.elevation_m[place] ?? Number.NaN,
  );
  const low = Math.min(...corners);
  const high = Math.max(...corners);
  if (Number.isNaN(low) || Number.isNaN(high)) return;
  const x = grid.x_m + column * grid.step_m;
  const y = grid.y_m + row * grid.step_m;
  const places: readonly (readonly [number, number])[] = [
    [x, y],
    [x + grid.step_m, y],
    [x + grid.step_m, y + grid.step_m],
    [x, y + grid.step_m],
  ];
  for (let index = Math.ceil(low / step_m); index * step_m <= high; index++) {
    const level = index * step_m;
    const cuts: number[] = [];
    for (let side = 0; side < 4; side++) {
      const [from, to] = [corners[side] ?? 0, corners[(side + 1) % 4] ?? 0];
      if (from < level === to < level) continue;
      const share = (level - from) / (to - from);
      const [a, b] = [places[side], places[(side + 1) % 4]];
      if (a && b) cuts.push(a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]));
    }
    // A saddle has four cuts: its first two and its last two belong together.
    if (cuts.length < 4) continue;
    const segments = byLevel.get(index) ?? [];
    segments.push(...cuts.slice(0, 8));
    byLevel.set(index, segments);
  }
}

/** A round contour step that gives about so many levels. */
export function contourStep(grid: Grid, unit_m: number, wanted: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of grid.elevation_m) {
    if (value === null) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const rough = (high - low) / unit_m / wanted;
  if (!(rough > 0)) return unit_m;
  const power = 10 ** Math.floor(Math.log10(rough));
  return ([1, 2, 5, 10].find((each) => each * power >= rough) ?? 10) * power * unit_m;
}

/** Light on each cell from the north-west, 0 dark to 1 bright; NaN where nothing is known. Heights count threefold. */
export function shading(grid: Grid): Float32Array {
  const light = new Float32Array(grid.rows * grid.columns);
  const value = (row: number, column: number) => {
    const r = Math.min(grid.rows - 1, Math.max(0, row));
    const c = Math.min(grid.columns - 1, Math.max(0, column));
    return grid.elevation_m[r * grid.columns + c] ?? Number.NaN;
  };
  const sun = [-0.5, 0.5, Math.SQRT1_2] as const;
  for (let row = 0; row < grid.rows; row++) {
    for (let column = 0; column < grid.columns; column++) {
      const dx = (3 * (value(row, column + 1) - value(row, column - 1))) / (2 * grid.step_m);
      const dy = (3 * (value(row + 1, column) - value(row - 1, column))) / (2 * grid.step_m);
      const length = Math.hypot(dx, dy, 1);
      light[row * grid.columns + column] = Math.max(0, (-dx * sun[0] - dy * sun[1] + sun[2]) / length);
    }
  }
  return light;
}

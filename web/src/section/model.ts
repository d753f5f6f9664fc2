/** What the long section draws of one line: posts at their stations and the ground between. */

export interface SectionPost {
  /** Row in the design's posts. */
  index: number;
  id: string;
  role: string;
  station_m: number;
  ground_m: number;
  top_m: number;
  /** Band in which the top may stand; null where it is not known. */
  low_m: number | null;
  high_m: number | null;
  /** Height of each rail above grade, lowest first. [m] */
  rail_marks_m: readonly number[];
  embedment_m: number;
  cut_m: number | null;
  uplift_n: number;
  isPinned: boolean;
}

export interface SectionLine {
  name: string;
  /** Station of its first post on the line; a closed line is drawn from its first span. [m] */
  start_m: number;
  length_m: number;
  posts: readonly SectionPost[];
  /** Ground as stations and elevations, rising in station. [m] */
  ground: readonly (readonly [station_m: number, elevation_m: number])[];
  /** Spans, as places in `posts`, that a gate or crossing opens: no rail is drawn there. */
  openings: ReadonlySet<number>;
}

/** The ground at a station, straight between the places where it is known; NaN where it is not. [m] */
export function groundAt(line: SectionLine, station_m: number): number {
  const after = placeFrom(line.ground, station_m, (each) => each[0]);
  const [from, to] = [
    line.ground[after - 1] ?? line.ground[after],
    line.ground[after] ?? line.ground[after - 1],
  ];
  if (!from || !to) return Number.NaN;
  const wide_m = to[0] - from[0];
  const share = wide_m > 0 ? Math.min(1, Math.max(0, (station_m - from[0]) / wide_m)) : 0;
  return from[1] + share * (to[1] - from[1]);
}

/** Lowest and highest elevation of what stands between two stations, from a post's foot to its top before it is sawn. */
export function elevations(line: SectionLine, low_m: number, high_m: number): { low: number; high: number } {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const hold = (lowest: number, highest: number) => {
    if (lowest < low) low = lowest;
    if (highest > high) high = highest;
  };
  for (const station_m of [low_m, high_m]) hold(groundAt(line, station_m), groundAt(line, station_m)); // NaN holds nothing
  const { ground, posts } = line;
  for (let place = placeFrom(ground, low_m, (each) => each[0]); place < ground.length; place++) {
    const [station_m, elevation_m] = ground[place] as readonly [number, number];
    if (station_m > high_m) break;
    hold(elevation_m, elevation_m);
  }
  for (let place = placeFrom(posts, low_m, (each) => each.station_m); place < posts.length; place++) {
    const post = posts[place] as SectionPost;
    if (post.station_m > high_m) break;
    const top_m = Math.max(post.top_m + (post.cut_m ?? 0), post.high_m ?? post.top_m);
    hold(post.ground_m - post.embedment_m, top_m);
  }
  return low <= high ? { low, high } : { low: 0, high: 1 };
}

/** The station of the job at a distance along the drawn section, which begins at `start_m` where the line is closed. */
export function stationAlong(line: SectionLine, along_m: number): number {
  const station_m = line.start_m + along_m;
  return line.start_m > 0 && station_m >= line.length_m - 1e-9 ? station_m - line.length_m : station_m;
}

/** Place in `posts` of the post nearest to a station; -1 where there is none within reach. */
export function nearestPost(line: SectionLine, station_m: number, reach_m: number): number {
  let best = -1;
  let least = reach_m;
  line.posts.forEach((post, place) => {
    const away = Math.abs(post.station_m - station_m);
    if (away <= least) {
      least = away;
      best = place;
    }
  });
  return best;
}

/** A top held to its post's band. */
export function heldToBand(post: SectionPost, top_m: number): number {
  return Math.min(
    post.high_m ?? Number.POSITIVE_INFINITY,
    Math.max(post.low_m ?? Number.NEGATIVE_INFINITY, top_m),
  );
}

/** First place, at or after one, whose station is at least so far on, in something that rises in station. */
export function placeFrom<Each>(
  all: readonly Each[],
  station_m: number,
  of: (each: Each) => number,
  from = 0,
): number {
  let low = from;
  let high = all.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (of(all[middle] as Each) < station_m) low = middle + 1;
    else high = middle;
  }
  return low;
}

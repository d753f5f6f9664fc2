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
  ground: SectionGround;
  /** Spans, as places in `posts`, that a gate or crossing opens: no rail is drawn there. */
  openings: ReadonlySet<number>;
}

/** Places on the ground, rising in station. [m] */
export interface SectionGround {
  station_m: ArrayLike<number>;
  elevation_m: ArrayLike<number>;
}

/** Whether a line that was told anew is drawn as the one before. */
export function isSameDrawing(before: SectionLine | null | undefined, now: SectionLine | null): boolean {
  return (
    before === now ||
    (before?.name === now?.name &&
      before?.start_m === now?.start_m &&
      before?.length_m === now?.length_m &&
      before?.posts === now?.posts &&
      before?.ground === now?.ground &&
      before?.openings === now?.openings)
  );
}

/** The ground at a station, straight between the places where it is known; NaN where it is not. [m] */
export function groundAt({ ground }: SectionLine, station_m: number): number {
  const { station_m: stations, elevation_m: elevations } = ground;
  const last = stations.length - 1;
  if (last < 0) return Number.NaN;
  const after = Math.min(last, placeIn(stations, station_m));
  const before = Math.max(0, after - 1);
  const [from_m, to_m] = [stations[before] as number, stations[after] as number];
  const share = to_m > from_m ? Math.min(1, Math.max(0, (station_m - from_m) / (to_m - from_m))) : 0;
  const [low_m, high_m] = [elevations[before] as number, elevations[after] as number];
  return low_m + share * (high_m - low_m);
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
  const { station_m: stations, elevation_m: heights } = ground;
  for (let place = placeIn(stations, low_m); place < stations.length; place++) {
    if ((stations[place] as number) > high_m) break;
    hold(heights[place] as number, heights[place] as number);
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

/** First place whose station is at least so far on, in something that rises in station. */
export function placeFrom<Each>(all: readonly Each[], station_m: number, of: (each: Each) => number): number {
  return firstFrom(all.length, station_m, (place) => of(all[place] as Each));
}

/** The same in stations; none before a place is looked at. */
export function placeIn(stations_m: ArrayLike<number>, station_m: number, from = 0): number {
  return firstFrom(stations_m.length, station_m, (place) => stations_m[place] as number, from);
}

function firstFrom(
  length: number,
  station_m: number,
  stationAt: (place: number) => number,
  from = 0,
): number {
  let low = from;
  let high = length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (stationAt(middle) < station_m) low = middle + 1;
    else high = middle;
  }
  return low;
}

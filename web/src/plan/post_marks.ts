/** Marks of the posts, row by row: an answer changes few of them, and the others stay as they are. */

import type Feature from "ol/Feature.js";
import OlPoint from "ol/geom/Point.js";
import type VectorSource from "ol/source/Vector.js";
import type { FenceSource } from "./fence_source.ts";
import { markOf } from "./looks.ts";
import type { PlanPost } from "./model.ts";

/** A post that is off by less has the same mark: a fifth of a pixel where the plan is drawn largest. [m] */
const UNSEEN_M = 0.001;

export class PostMarks {
  private marks: readonly Mark[] = [];

  constructor(private readonly source: FenceSource) {}

  /** Show posts; gives whether anything looks otherwise. A mark is known by its place and role: its name may change. */
  show(posts: readonly PlanPost[]): boolean {
    const before = this.marks;
    const { first, last } = keptRows(before, posts);
    const spare = new Map<string, Mark[]>();
    for (const mark of before.slice(first, before.length - last)) {
      const key = keyOf(mark.of);
      const found = spare.get(key);
      if (found) found.push(mark);
      else spare.set(key, [mark]);
    }
    const added: Mark[] = [];
    const between = posts.slice(first, posts.length - last).map((post) => {
      const kept = spare.get(keyOf(post))?.pop();
      if (kept) return kept;
      const mark = { of: post, says: post, feature: postFeature(post) };
      added.push(mark);
      return mark;
    });
    this.marks = before.slice(0, first).concat(between, before.slice(before.length - last));
    const isOtherwise = this.tell(posts);
    const gone = [...spare.values()].flat();
    if (gone.length > posts.length / 2) this.putAll();
    else this.put(gone, added);
    return isOtherwise || gone.length > 0 || added.length > 0;
  }

  /** Give the marks the names and the states of their posts; gives whether any had another. */
  private tell(posts: readonly PlanPost[]): boolean {
    let isOtherwise = false;
    this.marks.forEach((mark, row) => {
      const post = posts[row] as PlanPost;
      if (mark.says === post) return;
      const overloaded = isOverloaded(post);
      const isSame = mark.says.id === post.id && isOverloaded(mark.says) === overloaded;
      mark.says = post;
      if (isSame) return;
      mark.feature.set("id", post.id, true);
      mark.feature.set("overloaded", overloaded, true);
      isOtherwise = true;
    });
    return isOtherwise;
  }

  /** Marks of the line posts among some posts. */
  ofLinePosts(ids: ReadonlySet<string>): Feature[] {
    const found = ids.size ? this.marks.filter(isLinePost).map(({ feature }) => feature) : [];
    return found.filter((feature) => ids.has(String(feature.get("id"))));
  }

  /** One by one. */
  private put(gone: readonly Mark[], added: readonly Mark[]): void {
    const { source } = this;
    change(source, gone.filter(isFixed), added.filter(isFixed));
    change(source.linePosts, gone.filter(isLinePost), added.filter(isLinePost));
  }

  /** Another fence: all anew, which is quicker than one by one. */
  private putAll(): void {
    const { source } = this;
    const others = source.getFeatures().filter((feature) => feature.get("kind") !== "post");
    source.clear(true);
    source.addFeatures([...others, ...featuresOf(this.marks.filter(isFixed))]);
    source.linePosts.clear(true);
    source.linePosts.addFeatures(featuresOf(this.marks.filter(isLinePost)));
  }
}

/** A mark on the map, and the post as it was when it was drawn. */
interface Mark {
  of: PlanPost;
  /** The post whose name and state it has. */
  says: PlanPost;
  feature: Feature;
}

const featuresOf = (marks: readonly Mark[]): Feature[] => marks.map(({ feature }) => feature);

/** A source tells of a change also where it is given nothing. */
function change(source: VectorSource<Feature>, gone: readonly Mark[], added: readonly Mark[]): void {
  if (gone.length) source.removeFeatures(featuresOf(gone));
  if (added.length) source.addFeatures(featuresOf(added));
}

/** How many marks at the beginning, and how many at the end, show where the posts stand now. */
function keptRows(marks: readonly Mark[], posts: readonly PlanPost[]): { first: number; last: number } {
  const most = Math.min(marks.length, posts.length);
  const shows = (row: number, of: number) => isShown(posts[of] as PlanPost, (marks[row] as Mark).of);
  let [first, last] = [0, 0];
  while (first < most && shows(first, first)) first += 1;
  while (last < most - first && shows(marks.length - 1 - last, posts.length - 1 - last)) last += 1;
  return { first, last };
}

/** Whether a post stands where one was drawn: a corner that moves shifts others by a hair, as stations are rounded. */
function isShown(post: PlanPost, drawn: PlanPost): boolean {
  if (post === drawn) return true;
  return (
    Math.abs(post.at[0] - drawn.at[0]) < UNSEEN_M &&
    Math.abs(post.at[1] - drawn.at[1]) < UNSEEN_M &&
    post.role === drawn.role
  );
}

function keyOf(post: PlanPost): string {
  return `${post.at} ${post.role}`;
}

function isOverloaded(post: PlanPost): boolean {
  return (post.utilisation ?? 0) > 1;
}

function isLinePost({ of }: Mark): boolean {
  return of.role === "line";
}

function isFixed(mark: Mark): boolean {
  return !isLinePost(mark);
}

function postFeature(post: PlanPost): Feature {
  const feature = markOf("post", post.id, { role: post.role, overloaded: isOverloaded(post) });
  feature.setGeometry(new OlPoint([...post.at]));
  return feature;
}

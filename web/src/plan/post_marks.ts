/** Marks of the posts, row by row: an answer changes few of them, and the others stay as they are. */

import type Feature from "ol/Feature.js";
import OlPoint from "ol/geom/Point.js";
import type VectorSource from "ol/source/Vector.js";
import type { FenceSource } from "./fence_source.ts";
import { markOf } from "./looks.ts";
import type { PlanPost } from "./model.ts";

export class PostMarks {
  private posts: readonly PlanPost[] = [];
  private marks: readonly Feature[] = [];

  constructor(private readonly source: FenceSource) {}

  /** Show posts; gives whether anything looks otherwise. A mark is known by its place and role: its name may change. */
  show(posts: readonly PlanPost[]): boolean {
    const { first, last } = changedRows(this.posts, posts);
    const spare = new Map<string, Feature[]>();
    for (let row = first; row < this.posts.length - last; row++) {
      const key = keyOf(this.posts[row] as PlanPost);
      const found = spare.get(key);
      const mark = this.marks[row] as Feature;
      if (found) found.push(mark);
      else spare.set(key, [mark]);
    }
    const added: Feature[] = [];
    const between = posts.slice(first, posts.length - last).map((post) => {
      const kept = spare.get(keyOf(post))?.pop();
      if (!kept) added.push(postMark(post));
      return kept ?? (added.at(-1) as Feature);
    });
    const after = this.marks.slice(this.posts.length - last);
    this.marks = this.marks.slice(0, first).concat(between, after);
    this.posts = posts;
    const isOtherwise = this.tellMarks();
    const gone = [...spare.values()].flat();
    if (gone.length > posts.length / 2) this.putAll();
    else this.put(gone, added);
    return isOtherwise || gone.length > 0 || added.length > 0;
  }

  /** Give the marks the names and the states of their posts; gives whether any had another. */
  private tellMarks(): boolean {
    let isOtherwise = false;
    this.posts.forEach((post, row) => {
      const mark = this.marks[row] as Feature;
      const overloaded = isOverloaded(post);
      if (mark.get("id") === post.id && mark.get("overloaded") === overloaded) return;
      mark.set("id", post.id, true);
      mark.set("overloaded", overloaded, true);
      isOtherwise = true;
    });
    return isOtherwise;
  }

  /** Marks of the line posts among some posts. */
  ofLinePosts(ids: ReadonlySet<string>): Feature[] {
    return ids.size
      ? this.marks.filter((mark, row) => isLinePost(mark) && ids.has((this.posts[row] as PlanPost).id))
      : [];
  }

  /** One by one. */
  private put(gone: readonly Feature[], added: readonly Feature[]): void {
    const { source } = this;
    const fixed = (mark: Feature) => !isLinePost(mark);
    change(source, gone.filter(fixed), added.filter(fixed));
    change(source.linePosts, gone.filter(isLinePost), added.filter(isLinePost));
  }

  /** Another fence: all anew, which is quicker than one by one. */
  private putAll(): void {
    const { linePosts } = this.source;
    const others = this.source.getFeatures().filter((mark) => mark.get("kind") !== "post");
    this.source.clear(true);
    this.source.addFeatures([...others, ...this.marks.filter((mark) => !isLinePost(mark))]);
    linePosts.clear(true);
    linePosts.addFeatures(this.marks.filter(isLinePost));
  }
}

/** A source tells of a change also where it is given nothing. */
function change(source: VectorSource<Feature>, gone: Feature[], added: Feature[]): void {
  if (gone.length) source.removeFeatures(gone);
  if (added.length) source.addFeatures(added);
}

/** How many rows at the beginning, and how many at the end, are of the same posts. */
function changedRows(before: readonly PlanPost[], now: readonly PlanPost[]): { first: number; last: number } {
  const most = Math.min(before.length, now.length);
  const isSame = (row: number, nowRow: number) => isAlike(before[row] as PlanPost, now[nowRow] as PlanPost);
  let [first, last] = [0, 0];
  while (first < most && isSame(first, first)) first += 1;
  while (last < most - first && isSame(before.length - 1 - last, now.length - 1 - last)) last += 1;
  return { first, last };
}

function isAlike(one: PlanPost, other: PlanPost): boolean {
  return one.at[0] === other.at[0] && one.at[1] === other.at[1] && one.role === other.role;
}

function keyOf(post: PlanPost): string {
  return `${post.at} ${post.role}`;
}

function isOverloaded(post: PlanPost): boolean {
  return (post.utilisation ?? 0) > 1;
}

function isLinePost(mark: Feature): boolean {
  return mark.get("role") === "line";
}

function postMark(post: PlanPost): Feature {
  const mark = markOf("post", post.id, { role: post.role, overloaded: isOverloaded(post) });
  mark.setGeometry(new OlPoint([...post.at]));
  return mark;
}

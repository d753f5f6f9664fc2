/** What stands along a long section: posts above and in the ground, what is sawn off, uplift and pins. */

import { type Board, type Brush, type Inks, type InSight, rule, topOf } from "./board.ts";
import type { SectionPost } from "./model.ts";

/** Pixels a metre from which arrows of uplift do not run into one band. */
const ARROWS_FROM = 6;

export function drawPosts(board: Board, shown: InSight): void {
  const { brush, line, scale, inks, marked } = board;
  const isFixed = (place: number) => line.posts[place]?.role !== "line";
  const [fixed, between]: [number[], number[]] = [[], []];
  for (let place = shown.first; place < shown.end; place++) (isFixed(place) ? fixed : between).push(place);
  const pointed = [...new Set([marked.selected, marked.hovered])].filter(
    (place) => place >= shown.first && place < shown.end,
  );
  const strokes = (of: readonly number[], ends: (post: SectionPost, place: number) => [number, number]) => {
    brush.beginPath();
    for (const place of of) {
      const post = line.posts[place];
      if (!post) continue;
      const [x, [from_m, to_m]] = [scale.across(post.station_m), ends(post, place)];
      brush.moveTo(x, scale.up(from_m));
      brush.lineTo(x, scale.up(to_m));
    }
    brush.stroke();
  };
  const standing = (post: SectionPost, place: number): [number, number] => [
    post.ground_m,
    topOf(post, place, marked),
  ];
  const inGround = (post: SectionPost): [number, number] => [post.ground_m, post.ground_m - post.embedment_m];
  brush.strokeStyle = inks.ink;
  if (!shown.isDense) {
    brush.lineWidth = 1.5;
    strokes(between, standing);
  }
  brush.lineWidth = 3;
  strokes(fixed, standing);
  brush.setLineDash([3, 3]);
  brush.lineWidth = 1;
  strokes(fixed, inGround);
  if (!shown.isDense) strokes(between, inGround);
  brush.strokeStyle = inks.accent;
  strokes(pointed, inGround);
  brush.setLineDash([]);
  for (const place of pointed) {
    brush.lineWidth = (isFixed(place) ? 3 : 1.5) + (place === marked.selected ? 1.5 : 0);
    strokes([place], standing);
  }
  for (let place = shown.first; place < shown.end; place++) {
    const post = line.posts[place];
    if (!post) continue;
    if (post.uplift_n > 0 && scale.across_per_m > ARROWS_FROM)
      arrow(brush, scale.across(post.station_m), scale.up(post.ground_m) - 2, inks.accent);
    if (post.isPinned) pin(brush, scale.across(post.station_m), scale.up(topOf(post, place, marked)), inks);
  }
}

/** What is sawn off: the stock above each top, faint. */
export function drawCuts(board: Board, shown: InSight): void {
  const { brush, line, scale, inks, marked } = board;
  brush.strokeStyle = inks.soft;
  brush.lineWidth = 1;
  brush.setLineDash([2, 2]);
  brush.beginPath();
  for (let place = shown.first; place < shown.end; place++) {
    const post = line.posts[place];
    const stock_m = post?.cut_m ? post.top_m + post.cut_m : null;
    if (!post || stock_m === null || stock_m <= topOf(post, place, marked)) continue;
    const [x, low, high] = [
      Math.round(scale.across(post.station_m)),
      scale.up(topOf(post, place, marked)),
      scale.up(stock_m),
    ];
    brush.rect(x - 2.5, high, 5, low - high);
  }
  brush.stroke();
  brush.setLineDash([]);
}

/** Where a post would stand that a hand moves along the line. */
export function drawShifted(board: Board): void {
  const { brush, line, scale, inks, marked } = board;
  const { shifted } = marked;
  const post = shifted && line.posts[shifted.place];
  if (!post) return;
  const x = scale.across(shifted.station_m);
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 2;
  brush.setLineDash([5, 4]);
  rule(brush, x, scale.up(post.top_m), x, scale.up(post.ground_m - post.embedment_m));
  brush.setLineDash([]);
}

function arrow(brush: Brush, x: number, y: number, ink: string): void {
  brush.fillStyle = ink;
  brush.beginPath();
  brush.moveTo(x, y - 12);
  brush.lineTo(x - 4, y - 5);
  brush.lineTo(x + 4, y - 5);
  brush.closePath();
  brush.fill();
}

function pin(brush: Brush, x: number, y: number, inks: Inks): void {
  brush.fillStyle = inks.paper;
  brush.strokeStyle = inks.accent;
  brush.lineWidth = 2;
  brush.beginPath();
  brush.rect(x - 4, y - 4, 8, 8);
  brush.fill();
  brush.stroke();
}

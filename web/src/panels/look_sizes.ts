/** How large a page or drawing is shown: fitted to the view, or by a percentage of its true size. */

export interface Size {
  width: number;
  height: number;
}

/** To the width of the view, whole within it, or so many per cent of the true size. */
export type Fit = "width" | "whole" | number;

const PX_PER_MM = 96 / 25.4;
const PERCENTS = [10, 15, 20, 25, 33, 50, 67, 80, 100, 125, 150, 200, 250, 300, 400, 600, 800];
/** Wider than this nothing is shown. [px] */
const MOST_WIDE_PX = 6000;
/** Widths in which pages are drawn, so that a few serve every view. [px] */
const PICTURE_WIDTHS_PX = [400, 600, 800, 1000, 1200, 1600, 2000, 2600, 3200];
const LEAST_WHOLE_PERCENT = 75;
const MOST_FIRST_PERCENT = 125;
const VIEW_BOX = /<svg\b[^>]*\bviewBox="0 0 ([\d.]+) ([\d.]+)"[^>]*>/g;

/** The per cent of its true size at which a thing is shown. */
export function fittedPercent(fit: Fit, size: Size, view: Size): number {
  if (typeof fit === "number") return fit;
  const wide = (100 * view.width) / size.width;
  return fit === "width" ? wide : Math.min(wide, (100 * view.height) / size.height);
}

/** How a thing is shown first: whole where it can be read so, else to the width, but not larger than is easy to read. */
export function firstFit(size: Size, view: Size): Fit {
  if (fittedPercent("whole", size, view) >= LEAST_WHOLE_PERCENT) return "whole";
  return fittedPercent("width", size, view) <= MOST_FIRST_PERCENT ? "width" : MOST_FIRST_PERCENT;
}

/** The next larger or smaller step from a percentage; the same where there is none. */
export function stepped(percent: number, by: 1 | -1, size: Size): number {
  const most = (100 * MOST_WIDE_PX) / size.width;
  const steps = PERCENTS.filter((step) => step <= most && (by > 0 ? step > percent + 1 : step < percent - 1));
  return (by > 0 ? steps[0] : steps.at(-1)) ?? percent;
}

/** Width in which the picture of a page is asked for, so that none of its lines is blurred. [px] */
export function pictureWidth(shownPx: number, pixelRatio: number, widestPx: number): number {
  const wanted = shownPx * pixelRatio;
  return Math.min(PICTURE_WIDTHS_PX.find((width) => width >= wanted) ?? widestPx, widestPx);
}

/** True sizes of a drawing of the program: of its sheet, and of the narrow form within it, if it has one. [px] */
export function drawingSizes(svg: string): { sheet: Size; narrow: Size | null } {
  let sheet: Size | null = null;
  for (const [tag, width, height] of svg.matchAll(VIEW_BOX)) {
    const size = { width: Number(width) * PX_PER_MM, height: Number(height) * PX_PER_MM };
    if (sheet && tag.includes('class="phone"')) return { sheet, narrow: size };
    sheet ??= size;
  }
  if (!sheet) throw new Error("no drawing of the program");
  return { sheet, narrow: null };
}

/** Whether there is more to see that way within a view, so that an arrow moves the view and turns no page. */
export function scrollsOn(
  [at, shown, all]: readonly [at: number, shown: number, all: number],
  way: 1 | -1,
): boolean {
  return way > 0 ? at + shown < all - 1 : at > 1;
}
